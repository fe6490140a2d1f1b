package deposit

import "testing"

func benchmarkMeasure(b *testing.B, width, height int) {
	s := twoFaced()
	s.width, s.height = width, height
	p, r := s.photo(), s.region()
	b.ResetTimer()
	for b.Loop() {
		if _, err := Measure(p, r, Options{}); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkMeasure640x480(b *testing.B)   { benchmarkMeasure(b, 640, 480) }
func BenchmarkMeasure1920x1080(b *testing.B) { benchmarkMeasure(b, 1920, 1080) }

func BenchmarkDoubt(b *testing.B) {
	r := halves(1).region()
	classes := classify(r.Mask, r.Bounds(), r.Evidence)
	for b.Loop() {
		Doubt(r, classes, DefaultCalibration())
	}
}
