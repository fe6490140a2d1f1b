package photo

import "testing"

func BenchmarkAssess(b *testing.B) {
	p := leaves(vgaW, vgaH, 1, 40, 200).blurred(1).noisy(3, 1).photo()
	big := enlarged(leaves(vgaW, vgaH, 1, 40, 200), 3).photo()
	b.Run("valve-640x480", func(b *testing.B) {
		for b.Loop() {
			Assess(p, valve())
		}
	})
	b.Run("frame-640x480", func(b *testing.B) {
		for b.Loop() {
			Assess(p, nil)
		}
	})
	mask := disc(3*vgaW, 3*vgaH, 960, 720, 360)
	b.Run("valve-1920x1440", func(b *testing.B) {
		for b.Loop() {
			Assess(big, mask)
		}
	})
}

func BenchmarkDecode(b *testing.B) {
	data := withEXIF(
		asJPEG(b, leaves(vgaW, vgaH, 1, 40, 200).blurred(1).noisy(3, 1).photo().Pixels),
		6,
		"2024:02:29 07:08:09",
	)
	for b.Loop() {
		if _, err := Decode("p", data, Limits{}); err != nil {
			b.Fatal(err)
		}
	}
}
