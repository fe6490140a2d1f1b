package texture

import "testing"

// A valve of 300 x 300 pixels, as in a photo of 640 x 480.
const benchSide = 300

func BenchmarkDetailOf(b *testing.B) {
	p := wave(benchSide, 0.1, 7)
	for b.Loop() {
		DetailOf(p)
	}
}

func BenchmarkMeanCoOccurrence(b *testing.B) {
	l := Levels{Width: benchSide, Height: benchSide, Count: 32, Pix: make([]uint8, benchSide*benchSide)}
	for i := range l.Pix {
		l.Pix[i] = uint8(i * 7 % 32)
	}
	for b.Loop() {
		MeanCoOccurrence(l)
	}
}

func BenchmarkPatternEntropy(b *testing.B) {
	p, circle := wave(benchSide, 0.1, 7), NewCircle(8, 1)
	for b.Loop() {
		circle.PatternEntropy(p, 1)
	}
}
