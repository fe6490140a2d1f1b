package net

import (
	"image"
	"image/color"
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestSpansCoverEveryPixelOnce(t *testing.T) {
	for _, size := range [][2]int{{640, 320}, {641, 320}, {160, 320}, {7, 3}, {3, 7}, {1, 1}, {4032, 320}} {
		n, m := size[0], size[1]
		covered := make([]float64, n)
		for _, part := range spans(n, m) {
			sum := 0.0
			for i, weight := range part.weights {
				covered[part.first+i] += float64(weight)
				sum += float64(weight)
			}
			assert.InDelta(t, 1, sum, 1e-6, "the weights of a part of %d/%d; float32 rounding", n, m)
		}
		for i, c := range covered {
			assert.InDelta(t, float64(m)/float64(n), c, 1e-6, "pixel %d of %d/%d; float32 rounding", i, n, m)
		}
	}
}

// shrunk collects the rows of shrink.
func shrunk(img *image.NRGBA, width, height int) (all []float32) {
	shrink(img, width, height, func(_ int, means []float32) { all = append(all, means...) })
	return all
}

func TestShrinkMeansOfWholePixels(t *testing.T) {
	img := image.NewNRGBA(image.Rect(0, 0, 4, 2))
	for x := range 4 {
		img.SetNRGBA(x, 0, color.NRGBA{uint8(10 * x), 100, 0, 255})
		img.SetNRGBA(x, 1, color.NRGBA{uint8(10 * x), 200, 8, 255})
	}
	assert.Equal(t, []float32{5, 150, 4, 25, 150, 4}, shrunk(img, 2, 1))
}

func TestShrinkCutsPixels(t *testing.T) {
	img := image.NewNRGBA(image.Rect(0, 0, 3, 1))
	for x, v := range []uint8{0, 60, 240} {
		img.SetNRGBA(x, 0, color.NRGBA{v, v, v, 255})
	}
	// Each half holds one whole pixel and half of the middle one: (0 + 30)/1.5 and (30 + 240)/1.5.
	got := shrunk(img, 2, 1)
	assert.InDelta(t, 20, got[0], 1e-4, "float32 rounding")
	assert.InDelta(t, 180, got[3], 1e-4, "float32 rounding")
}

func TestShrinkReadsSubImages(t *testing.T) {
	img := image.NewNRGBA(image.Rect(0, 0, 8, 8))
	for i := range img.Pix {
		img.Pix[i] = uint8(i)
	}
	part := img.SubImage(image.Rect(0, 0, 4, 4)).(*image.NRGBA)
	assert.Equal(t, float32(img.NRGBAAt(3, 2).G), shrunk(part, 4, 4)[3*(2*4+3)+1])
}
