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

func TestUnusablePlanesAreErrors(t *testing.T) {
	for name, p := range map[string]cv.Plane{
		"zero":     {},
		"short":    {Width: 4, Height: 3, Pix: make([]float32, 11)},
		"long":     {Width: 4, Height: 3, Pix: make([]float32, 13)},
		"negative": {Width: -4, Height: -3, Pix: make([]float32, 12)},
		"huge":     {Width: 1 << 31, Height: 1 << 33, Pix: make([]float32, 12)},
	} {
		_, err := cv.GaussianBlur(p, 1)
		assert.Error(t, err, name)
	}
	good := plane(4, 3, func(x, _ float64) float64 { return x })
	for _, sigma := range []float64{0, -1, math.NaN(), math.Inf(1), 1e9} {
		_, err := cv.GaussianBlur(good, sigma)
		assert.Error(t, err, "sigma %g", sigma)
	}
}

// plane fills a picture from a formula of the pixel's place.
func plane(width, height int, value func(x, y float64) float64) cv.Plane {
	p := cv.Plane{Width: width, Height: height, Pix: make([]float32, width*height)}
	for i := range p.Pix {
		p.Pix[i] = float32(value(float64(i%width), float64(i/width)))
	}
	return p
}
