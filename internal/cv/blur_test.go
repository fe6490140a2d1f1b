package cv_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"valvegrade/internal/cv"
)

func TestGaussianBlurOfASpotIsTheGaussian(t *testing.T) {
	const sigma, size, centre = 2.0, 41, 20
	spot := plane(size, size, func(x, y float64) float64 {
		if x == centre && y == centre {
			return 1
		}
		return 0
	})
	blurred, err := cv.GaussianBlur(spot, sigma)
	require.NoError(t, err)
	sum := 0.0
	for i, v := range blurred.Pix {
		sum += float64(v)
		x, y := float64(i%size-centre), float64(i/size-centre)
		want := math.Exp(-(x*x+y*y)/(2*sigma*sigma)) / (2 * math.Pi * sigma * sigma)
		// The kernel is cut off at 4 sigma, exp(-8) of the peak of 0.04.
		assert.InDelta(t, want, v, 2e-5)
	}
	assert.InDelta(t, 1, sum, 1e-5, "the kernel sums to 1 up to float32 rounding")
}

func TestGaussianBlurKeepsAConstantToTheBorder(t *testing.T) {
	blurred, err := cv.GaussianBlur(plane(9, 7, func(_, _ float64) float64 { return 0.75 }), 3)
	require.NoError(t, err)
	for _, v := range blurred.Pix {
		assert.InDelta(t, 0.75, v, 1e-6, "float32 rounding")
	}
}

func TestUnusablePlanesAndSizesAreErrors(t *testing.T) {
	good := plane(4, 3, bumps)
	bad := map[string]cv.Plane{
		"zero":     {},
		"short":    {Width: 4, Height: 3, Pix: make([]float32, 11)},
		"long":     {Width: 4, Height: 3, Pix: make([]float32, 13)},
		"negative": {Width: -4, Height: -3, Pix: make([]float32, 12)},
		"huge":     {Width: 1 << 31, Height: 1 << 33, Pix: make([]float32, 12)},
	}
	for name, p := range bad {
		t.Run(name, func(t *testing.T) {
			_, err := cv.GaussianBlur(p, 1)
			assert.Error(t, err)
			_, err = cv.Warp(p, cv.Identity, 4, 3, 0)
			assert.Error(t, err)
			_, err = cv.Remap(p, good, good, 0)
			assert.Error(t, err)
			_, err = cv.Remap(good, p, p, 0)
			assert.Error(t, err)
			_, _, err = cv.Align(p, good, nil, cv.Shift, cv.Identity, 10)
			assert.Error(t, err)
			_, _, err = cv.Align(good, p, nil, cv.Shift, cv.Identity, 10)
			assert.Error(t, err)
		})
	}
	for _, sigma := range []float64{0, -1, math.NaN(), math.Inf(1), 1e9} {
		_, err := cv.GaussianBlur(good, sigma)
		assert.Error(t, err, "sigma %g", sigma)
	}
	for _, size := range [][2]int{{0, 1}, {1, 0}, {-3, 4}, {1 << 20, 1 << 20}} {
		_, err := cv.Warp(good, cv.Identity, size[0], size[1], 0)
		assert.Error(t, err, "size %v", size)
	}
}
