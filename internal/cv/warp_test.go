package cv_test

import (
	"image"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"valvegrade/internal/cv"
)

func TestWarpReadsWhereTheMapPoints(t *testing.T) {
	ramp := plane(40, 30, func(x, y float64) float64 { return x + 100*y })
	from := cv.Affine{0.5, 0.25, 3, -0.125, 1, 5}
	found, err := cv.Warp(ramp, from, 20, 10, -1)
	require.NoError(t, err)
	for i, v := range found.Pix {
		x, y := from.At(float64(i%20), float64(i/20))
		// Places are rounded to 1/32 pixel, at most 1/64 off in each direction; the ramp rises by 1 in x and 100 in y.
		assert.InDelta(t, x+100*y, v, 101.0/64)
	}
}

func TestIdentityKeepsEveryPixelAndOutsideIsFilled(t *testing.T) {
	p := plane(6, 5, bumps)
	same, err := cv.Warp(p, cv.Identity, 6, 5, -1)
	require.NoError(t, err)
	assert.Equal(t, p, same)
	away, err := cv.Warp(p, cv.Affine{1, 0, 100, 0, 1, 0}, 6, 5, -1)
	require.NoError(t, err)
	for _, v := range away.Pix {
		assert.Equal(t, float32(-1), v)
	}
}

func TestRemapReadsWhereTheMapsPoint(t *testing.T) {
	p := plane(30, 20, func(x, y float64) float64 { return 2*x - y })
	// A polar map, as for unwrapping a valve around its stem.
	turn := func(place func(angle, radius float64) float64) cv.Plane {
		return plane(16, 8, func(x, y float64) float64 { return place(x*math.Pi/8, y+1) })
	}
	xs := turn(func(a, r float64) float64 { return 15 + r*math.Cos(a) })
	ys := turn(func(a, r float64) float64 { return 10 + r*math.Sin(a) })
	found, err := cv.Remap(p, xs, ys, 0)
	require.NoError(t, err)
	for i, v := range found.Pix {
		assert.InDelta(t, 2*xs.Pix[i]-ys.Pix[i], v, 3.0/64, "places are rounded to 1/32 pixel")
	}
}

func TestRemapTakesAnyCoordinate(t *testing.T) {
	p := plane(4, 4, func(_, _ float64) float64 { return 1 })
	nan, inf := float32(math.NaN()), float32(math.Inf(1))
	xs := cv.Plane{Width: 6, Height: 1, Pix: []float32{1, nan, inf, -inf, 1e30, -70000}}
	ys := cv.Plane{Width: 6, Height: 1, Pix: []float32{1, 1, 1, 1, 1, 1}}
	found, err := cv.Remap(p, xs, ys, 7)
	require.NoError(t, err)
	assert.Equal(t, []float32{1, 7, 7, 7, 7, 7}, found.Pix)
	_, err = cv.Remap(p, xs, plane(5, 1, bumps), 0)
	assert.Error(t, err, "maps of unlike size")
}

func TestWarpRefusesMapsThatAreNotFinite(t *testing.T) {
	for _, v := range []float64{math.NaN(), math.Inf(-1)} {
		_, err := cv.Warp(plane(4, 4, bumps), cv.Affine{1, 0, v, 0, 1, 0}, 4, 4, 0)
		assert.Error(t, err)
	}
	far, err := cv.Warp(plane(4, 4, bumps), cv.Affine{1e300, -1e300, 1e300, 1e300, 1, 0}, 4, 4, 5)
	require.NoError(t, err)
	assert.Len(t, far.Pix, 16)
}

func TestAlignFindsAKnownMotion(t *testing.T) {
	angle := 3 * math.Pi / 180
	truth := cv.Affine{math.Cos(angle), -math.Sin(angle), 2.6, math.Sin(angle), math.Cos(angle), -1.7}
	moved := plane(96, 72, bumps)
	// still shows at (x, y) what moved shows at truth.At(x, y), in other light.
	still := plane(96, 72, func(x, y float64) float64 {
		u, v := truth.At(x, y)
		return 3*bumps(u, v) + 10
	})
	mask := image.NewGray(image.Rect(0, 0, 96, 72))
	for i := range mask.Pix {
		mask.Pix[i] = 255
	}
	for name, m := range map[string]*image.Gray{"no mask": nil, "mask": mask} {
		t.Run(name, func(t *testing.T) {
			found, correlation, err := cv.Align(still, moved, m, cv.ShiftAndTurn, cv.Identity, 200)
			require.NoError(t, err)
			assert.Greater(t, correlation, 0.999)
			for _, corner := range [][2]float64{{10, 10}, {85, 10}, {10, 60}, {85, 60}} {
				x, y := found.At(corner[0], corner[1])
				u, v := truth.At(corner[0], corner[1])
				assert.Less(t, math.Hypot(x-u, y-v), 0.05, "well under what can be seen")
			}
		})
	}
}

func TestAlignTellsWhenThereIsNothingInCommon(t *testing.T) {
	flat := plane(40, 40, func(_, _ float64) float64 { return 1 })
	_, correlation, err := cv.Align(flat, plane(40, 40, bumps), nil, cv.Shift, cv.Identity, 20)
	assert.ErrorIs(t, err, cv.ErrNotAligned)
	assert.True(t, math.IsNaN(correlation))
	_, _, err = cv.Align(flat, plane(40, 40, bumps), nil, cv.Shift, cv.Affine{1, 0, 9999, 0, 1, 0}, 20)
	assert.ErrorIs(t, err, cv.ErrNotAligned, "no overlap")
}

func TestAlignRefusesWhatDoesNotFit(t *testing.T) {
	p := plane(40, 30, bumps)
	_, _, err := cv.Align(p, p, drawing("##", "##"), cv.Shift, cv.Identity, 20)
	assert.ErrorContains(t, err, "mask")
	_, _, err = cv.Align(p, p, nil, cv.Motion(3), cv.Identity, 20)
	assert.Error(t, err)
	for _, steps := range []int{-1, 0, 1001} {
		_, _, err = cv.Align(p, p, nil, cv.Shift, cv.Identity, steps)
		assert.Error(t, err, "%d steps", steps)
	}
}
