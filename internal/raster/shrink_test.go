package raster

import (
	"image"
	"image/color"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestPartsCoverEveryPixelOnce(t *testing.T) {
	sizes := [][2]int{{640, 320}, {641, 320}, {160, 320}, {7, 3}, {3, 7}, {1, 1}, {4032, 320}, {5, 4}, {4, 5}}
	for _, size := range sizes {
		n, m := size[0], size[1]
		a, covered := divide(n, m), make([]uint32, n)
		for _, part := range a.parts {
			sum := part.before + part.after
			for i := part.from; i < part.to; i++ {
				covered[i] += a.unit
				sum += a.unit
			}
			if part.before > 0 {
				covered[part.from-1] += part.before
			}
			if part.after > 0 {
				covered[part.to] += part.after
			}
			assert.Equal(t, a.total, sum, "a part of %d/%d", n, m)
		}
		for i, c := range covered {
			assert.Equal(t, a.unit, c, "pixel %d of %d/%d", i, n, m)
		}
	}
}

// shrunk collects the rows of Shrink.
func shrunk(img *image.NRGBA, width, height int) (all []float32) {
	Shrink(img, width, height, func(_ int, means []float32) { all = append(all, means...) })
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

// slowMeans is the definition: each source pixel counts by the area that it shares with the rectangle.
func slowMeans(img *image.NRGBA, width, height int) (means []float32) {
	w, h := img.Rect.Dx(), img.Rect.Dy()
	shared := func(pixel, pixels, target, targets int) float64 { // in units of 1/targets pixel
		return float64(max(0, min((pixel+1)*targets, (target+1)*pixels)-max(pixel*targets, target*pixels)))
	}
	for y := range height {
		for x := range width {
			var sum [3]float64
			for v := range h {
				for u := range w {
					area := shared(u, w, x, width) * shared(v, h, y, height)
					for k := range sum {
						sum[k] += area * float64(img.Pix[v*img.Stride+4*u+k])
					}
				}
			}
			for _, s := range sum {
				means = append(means, float32(s/float64(w*h)))
			}
		}
	}
	return means
}

func TestShrinkIsExact(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	for _, size := range [][4]int{
		{12, 8, 6, 4}, {9, 6, 3, 2}, {15, 4, 3, 4}, {7, 5, 7, 5}, {32, 48, 2, 3}, {2, 700, 2, 1}, // whole pixels
		{13, 9, 6, 4}, {3, 2, 8, 9}, {1, 1, 2, 2}, {9, 16, 4, 5}, {8, 9, 4, 6},
	} {
		img := image.NewNRGBA(image.Rect(0, 0, size[0], size[1]))
		for i := range img.Pix {
			img.Pix[i] = uint8(random.IntN(256))
		}
		want, got := slowMeans(img, size[2], size[3]), shrunk(img, size[2], size[3])
		assert.InDeltaSlice(t, want, got, 2e-5, "%v; a bit of float32", size)
	}
}

func TestLanesDoNotOverflow(t *testing.T) {
	img := image.NewNRGBA(image.Rect(0, 0, 3, 1000))
	for i := range img.Pix {
		img.Pix[i] = 255
	}
	white := image.NewNRGBA(image.Rect(0, 0, 16, 16))
	copy(white.Pix, img.Pix)
	assert.Equal(t, []float32{255, 255, 255}, shrunk(white, 1, 1), "a square that just fits")
	for _, height := range []int{1, 2, 3, 7} {
		for _, mean := range shrunk(img, 1, height) {
			assert.Equal(t, float32(255), mean)
		}
	}
}
