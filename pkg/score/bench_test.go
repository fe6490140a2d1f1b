package score

import (
	"bytes"
	"fmt"
	"image"
	"image/jpeg"
	"testing"

	"github.com/stretchr/testify/require"

	"valvegrade/pkg/region"
)

// The time of one photo with everything warm, from its bytes to the result. Marks make sure that all five rooms work,
// whatever the net thinks of the picture.
func BenchmarkScoreWarm(b *testing.B) {
	for _, size := range []image.Point{{640, 480}, {1920, 1080}} {
		b.Run(fmt.Sprintf("%dx%d", size.X, size.Y), func(b *testing.B) {
			data, marks := discOnSpeckle(b, size)
			scorer, err := New(Options{Marks: marks})
			require.NoError(b, err)
			defer scorer.Close()
			require.NotNil(b, scorer.ScoreBytes("warm.jpg", data).Deposit)
			for b.Loop() {
				scorer.ScoreBytes("warm.jpg", data)
			}
		})
	}
}

// The time of making a Scorer: loading the net and trying it once, which a program pays at its start.
func BenchmarkNew(b *testing.B) {
	for b.Loop() {
		scorer, err := New(Options{})
		require.NoError(b, err)
		scorer.Close()
	}
}

// discOnSpeckle returns a JPEG of a bright speckled disc and the marks that outline it.
func discOnSpeckle(b *testing.B, size image.Point) ([]byte, *region.Marks) {
	b.Helper()
	marks := &region.Marks{Head: region.Ellipse{X: float64(size.X) / 2, Y: float64(size.Y) / 2, A: float64(size.Y) / 3, B: float64(size.Y) / 3.2}}
	picture := image.NewGray(image.Rectangle{Max: size})
	noise := uint32(1)
	for i := range picture.Pix {
		noise = noise*1664525 + 1013904223 // any noise will do, but the same each time
		dx, dy := float64(i%size.X)-marks.Head.X, float64(i/size.X)-marks.Head.Y
		level := uint8(60)
		if dx*dx+dy*dy < marks.Head.A*marks.Head.B {
			level = 150
		}
		picture.Pix[i] = level + uint8(noise>>27)
	}
	var text bytes.Buffer
	require.NoError(b, jpeg.Encode(&text, picture, &jpeg.Options{Quality: 88}))
	return text.Bytes(), marks
}
