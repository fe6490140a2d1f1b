package photo

import (
	"image"
	"image/draw"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestColoursAreThoseOfTheStandardLibrary(t *testing.T) {
	random := rand.New(rand.NewPCG(2, 6))
	for _, ratio := range []image.YCbCrSubsampleRatio{
		image.YCbCrSubsampleRatio420, image.YCbCrSubsampleRatio422,
		image.YCbCrSubsampleRatio444, image.YCbCrSubsampleRatio411,
	} {
		for _, size := range []image.Point{{16, 8}, {17, 9}, {1, 1}, {255, 130}} {
			stored := image.NewYCbCr(image.Rectangle{Max: size}, ratio)
			for _, plane := range [][]uint8{stored.Y, stored.Cb, stored.Cr} {
				for i := range plane {
					plane[i] = uint8(random.IntN(256))
				}
			}
			for _, corner := range []image.Point{{}, {0, 3}, {2, 1}, {3, 2}} {
				if !corner.In(stored.Rect) {
					continue
				}
				rest := image.Rectangle{Max: size.Sub(corner)}
				want, got := image.NewRGBA(rest), image.NewRGBA(rest)
				draw.Draw(want, rest, stored, corner, draw.Src)
				layYCbCr(got, stored, corner)
				require.Equal(t, want.Pix, got.Pix, "%v of %v from %v", ratio, size, corner)
			}
		}
	}
}
