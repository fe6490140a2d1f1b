package region

import (
	"fmt"
	"image"
	"testing"

	"github.com/stretchr/testify/require"
)

var sizes = [][2]int{{640, 480}, {1920, 1080}}

// BenchmarkAutomatic is all of Find but the net: tidy, enlarge, shapes, reasons.
func BenchmarkAutomatic(b *testing.B) {
	f := paintedFinder(b)
	for _, size := range sizes {
		r := only(b, f, paintMask(valve(size[0], size[1]).draw(size[0], size[1])), nil)
		b.Run(fmt.Sprintf("%dx%d", size[0], size[1]), func(b *testing.B) {
			for b.Loop() {
				f.automatic(r.Evidence, 0.9, 0.9, r.Mask.Rect)
			}
		})
	}
}

func BenchmarkTidy(b *testing.B) {
	r := only(b, paintedFinder(b), paintMask(valve(640, 480).draw(640, 480)), nil)
	for b.Loop() {
		propose(r.Evidence).tidy()
	}
}

// BenchmarkFind includes letterbox and the test net, whose forward run costs next to nothing.
func BenchmarkFind(b *testing.B) {
	f := paintedFinder(b)
	for _, size := range sizes {
		p := paintMask(valve(size[0], size[1]).draw(size[0], size[1]))
		b.Run(fmt.Sprintf("%dx%d", size[0], size[1]), func(b *testing.B) {
			for b.Loop() {
				_, err := f.Find(p, nil)
				require.NoError(b, err)
			}
		})
	}
}

// As much paint as a marks file can hold, each segment across all of a large photo.
func BenchmarkPaint(b *testing.B) {
	size := image.Rect(0, 0, 4000, 3000)
	m := Marks{}
	for range 200 {
		s := Stroke{Paint: PaintBare, Width: 5000}
		for n := range 65 {
			s.Path = append(s.Path, Point{float64(n%2) * 3999, float64(n%2) * 2999})
		}
		m.Painted = append(m.Painted, s)
	}
	for b.Loop() {
		m.paint(size)
	}
}
