package deposit

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// read returns the formula's reading of a surface given by its linear light.
func read(t *testing.T, light func(x, y int) [3]float64) Reading {
	t.Helper()
	s := plain()
	s.light = light
	d, err := Measure(s.photo(), s.region(), Options{})
	require.NoError(t, err)
	return d.Formula
}

func grey(level float64) [3]float64 { return [3]float64{level, level, level} }

// noise is what a camera adds: about a code and a half at middle brightness.
func noise(x, y int) float64 { return 1 + 0.02*(speckle(x, y, 1)-0.5) }

func TestSmoothMetalIsBareHoweverDarkOrTinted(t *testing.T) {
	for name, light := range map[string]func(x, y int) [3]float64{
		"plain steel": func(x, y int) [3]float64 { return grey(0.4 * fallOff(x, y) * noise(x, y)) },
		"nitrided":    func(x, y int) [3]float64 { return grey(0.03 * fallOff(x, y) * noise(x, y)) },
		"dim light":   func(x, y int) [3]float64 { return grey(0.012 * fallOff(x, y) * noise(x, y)) },
		"heat tint, straw": func(x, y int) [3]float64 {
			l := 0.2 * fallOff(x, y) * noise(x, y)
			return [3]float64{l, 0.85 * l, 0.6 * l}
		},
		"heat tint, blue": func(x, y int) [3]float64 {
			l := 0.1 * fallOff(x, y) * noise(x, y)
			return [3]float64{0.6 * l, 0.8 * l, l}
		},
		"shaded side": func(x, y int) [3]float64 {
			return grey(0.3 * fallOff(x, y) * noise(x, y) * (0.4 + 0.6/(1+math.Exp(float64(x-320)/60))))
		},
	} {
		reading := read(t, light)
		assert.Less(t, reading.Index.Value, 2.0, name)
		assert.LessOrEqual(t, reading.Index.Low, reading.Index.Value, name)
	}
}

// lumpy is rough crust under even light: shading of grains of 5 pixels by about a fifth.
func lumpy(x, y int) float64 { return 0.5 + speckle(x, y, 5) }

func TestRoughCrustIsCrustWhateverItsGlints(t *testing.T) {
	dry := read(t, func(x, y int) [3]float64 { return grey(0.05 * lumpy(x, y) * fallOff(x, y)) })
	assert.Greater(t, dry.Coverage.Value, 90.0)
	wet := read(t, func(x, y int) [3]float64 {
		if speckle(x, y, 3) > 0.93 {
			return grey(0.9) // glints, brighter than metal and not clipped
		}
		return grey(0.05 * lumpy(x, y) * fallOff(x, y))
	})
	assert.Greater(t, wet.Coverage.Value, 90.0, "a glint on wet crust is not bare metal")
}

func TestPatchesOfCrustAreFoundByArea(t *testing.T) {
	reading := read(t, func(x, y int) [3]float64 {
		if x < 320 {
			return grey(0.06 * lumpy(x, y) * fallOff(x, y))
		}
		return grey(0.4 * fallOff(x, y) * noise(x, y))
	})
	assert.InDelta(t, 50, reading.Coverage.Value, 8, "blocks along the border look rough from either side")
}

func TestAFilmTintsBesideMetal(t *testing.T) {
	reading := read(t, func(x, y int) [3]float64 {
		l := 0.4 * fallOff(x, y) * noise(x, y)
		if x < 320 {
			return [3]float64{0.8 * l, 0.6 * l, 0.35 * l}
		}
		return grey(l)
	})
	assert.InDelta(t, 50, reading.Coverage.Value, 8)
	assert.InDelta(t, 12.5, reading.Index.Value, 5, "half a valve of film, some of its border taken for crust")
}

func TestExposureChangesNothing(t *testing.T) {
	surface := func(gain float64) func(x, y int) [3]float64 {
		return func(x, y int) [3]float64 {
			if x < 320 {
				return grey(gain * 0.15 * lumpy(x, y) * fallOff(x, y))
			}
			return grey(gain * 0.6 * fallOff(x, y))
		}
	}
	bright, dim := read(t, surface(1)), read(t, surface(0.3))
	assert.InDelta(t, bright.Index.Value, dim.Index.Value, 3, "8-bit steps are coarser in the dim photo")
}
