package cv_test

import (
	"image"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"valvegrade/internal/cv"
)

// slope is a picture that grows brighter to the right in red and downwards in blue.
func slope(width, height int) *image.NRGBA {
	img := image.NewNRGBA(image.Rect(0, 0, width, height))
	for i := range width * height {
		copy(img.Pix[4*i:], []uint8{uint8(200 * (i % width) / width), 70, uint8(200 * (i / width) / height), 255})
	}
	return img
}

func TestShrinkKeepsThePlaceOfThings(t *testing.T) {
	for _, size := range []image.Point{{400, 300}, {250, 187}, {200, 150}, {133, 100}, {7, 5}, {1, 1}} {
		small, err := cv.Shrink(slope(400, 300), size.X, size.Y)
		require.NoError(t, err)
		require.Equal(t, image.Rectangle{Max: size}, small.Rect)
		for _, at := range []image.Point{{0, 0}, {size.X / 2, size.Y / 3}, {size.X - 1, size.Y - 1}} {
			c := small.NRGBAAt(at.X, at.Y)
			// A step of the slope, and one of rounding.
			assert.InDelta(t, 200*(float64(at.X)+0.5)/float64(size.X), c.R, 2, "%v of %v", at, size)
			assert.InDelta(t, 200*(float64(at.Y)+0.5)/float64(size.Y), c.B, 2, "%v of %v", at, size)
			assert.Equal(t, [2]uint8{70, 255}, [2]uint8{c.G, c.A}, "%v of %v", at, size)
		}
	}
}

func TestWhatDoesNotShrinkIsAnError(t *testing.T) {
	good := slope(8, 6)
	for _, size := range []image.Point{{9, 6}, {8, 7}, {0, 3}, {3, 0}, {-1, -1}} {
		_, err := cv.Shrink(good, size.X, size.Y)
		assert.Error(t, err, "%v", size)
	}
	short := *good
	short.Pix = short.Pix[:len(short.Pix)-1]
	for _, img := range []*image.NRGBA{{}, &short, good.SubImage(image.Rect(1, 1, 7, 5)).(*image.NRGBA)} {
		_, err := cv.Shrink(img, 2, 2)
		assert.Error(t, err)
	}
}
