package photo

import (
	"fmt"
	"image"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const vgaW, vgaH = 640, 480

// valve is the mask of the tests below: radius 120, 14.7 % of the frame.
func valve() *image.Gray { return disc(vgaW, vgaH, 320, 240, 120) }

// discs are well apart, so that each edge stands alone: the case for which the width of an edge is defined exactly.
func discs(low, high float64) canvas {
	return newCanvas(vgaW, vgaH, func(x, y int) float64 {
		const pitch = 128
		if math.Hypot(float64(x%pitch)-pitch/2, float64(y%pitch)-pitch/2) < 36 {
			return high
		}
		return low
	})
}

func TestSharpnessOfLoneEdges(t *testing.T) {
	for _, contrast := range []float64{30, 180} {
		for _, sigma := range []float64{1, 1.5, 2, 3, 4, 6, 8} {
			q := Assess(discs(40, 40+contrast).blurred(sigma).photo(), valve())
			// 15 %, and the pixel grid, which moves the edge by up to half a pixel from where the slope is read.
			assert.InDelta(t, sigma, q.Sharpness, 0.15*sigma+0.1, "contrast %v", contrast)
			assert.Zero(t, q.Motion)
		}
	}
}

func TestSharpnessOfCrowdedEdgesDespiteNoise(t *testing.T) {
	scene := leaves(vgaW, vgaH, 1, 40, 200)
	for _, noise := range []float64{0, 3, 8} {
		last := 0.0
		for _, sigma := range []float64{1, 1.5, 2, 3, 4, 6, 8} {
			q := Assess(scene.blurred(sigma).noisy(noise, 7).photo(), valve())
			// Discs smaller than the blur look sharper than edges: too low by up to 40 %, never too high.
			assert.InDelta(t, 0.83*sigma, q.Sharpness, 0.23*sigma, "noise %v", noise)
			assert.Greater(t, q.Sharpness, last, "more blur is never taken for less")
			assert.Zero(t, q.Motion)
			last = q.Sharpness
		}
	}
}

func TestSharpnessDoesNotDependOnThePhotoSize(t *testing.T) {
	small := Assess(leaves(vgaW, vgaH, 3, 40, 200).blurred(3).photo(), valve())
	big := Assess(enlarged(leaves(vgaW, vgaH, 3, 40, 200), 3).blurred(9).photo(), disc(3*vgaW, 3*vgaH, 960, 720, 360))
	assert.InDelta(t, small.Sharpness, big.Sharpness, 0.1*small.Sharpness, "in pixels of the 640-pixel frame")
	assert.InDelta(t, small.ValveRadius, big.ValveRadius, 0.5)
	assert.InDelta(t, small.ValveShare, big.ValveShare, 0.001)
	assert.InDelta(t, 9, big.ValvePixels/small.ValvePixels, 0.05, "three times as long and as wide")
}

func enlarged(c canvas, times int) canvas {
	return newCanvas(c.w*times, c.h*times, func(x, y int) float64 { return c.v[y/times*c.w+x/times] })
}

func TestMotionOfSmears(t *testing.T) {
	scene := leaves(vgaW, vgaH, 1, 40, 200).blurred(1)
	for _, length := range []int{15, 21, 31} {
		for _, noise := range []float64{0, 4} {
			q := Assess(scene.smeared(length, 1, 0).noisy(noise, 3).photo(), valve())
			// Half to all of the length: discs smaller than the smear look sharper than edges.
			assert.InDelta(t, 0.75*float64(length), q.Motion, 0.3*float64(length), "length %d, noise %v", length, noise)
			assert.Less(t, q.Sharpness, 2.0, "a smear is not defocus")
		}
	}
}

func TestFlatPictureHasNoSharpness(t *testing.T) {
	q := Assess(newCanvas(vgaW, vgaH, func(int, int) float64 { return 120 }).noisy(3, 1).photo(), valve())
	assert.True(t, math.IsNaN(q.Sharpness))
	assert.True(t, math.IsNaN(q.Motion))
}

func TestExposureFigures(t *testing.T) {
	// A quarter each of black, 128, 200 and white. By IEC 61966-2-1, sRGB 128 is linear 0.21586050
	// and 200 is 0.57758044.
	codes := [4]float64{0, 128, 200, 255}
	c := newCanvas(vgaW, vgaH, func(x, _ int) float64 { return codes[x/160] })
	q := Assess(c.photo(), nil)
	assert.InDelta(t, 0.25, q.Black, 1e-9)
	assert.InDelta(t, 0.25, q.Glare, 1e-9)
	assert.InDelta(t, (0.21586050+0.57758044+1)/4, q.Luminance, 1e-6)
	assert.True(t, math.IsNaN(q.ValveShare), "no mask, no share")
}

func TestNoiseIsRecovered(t *testing.T) {
	for _, sigma := range []float64{1, 3, 8} {
		c := newCanvas(vgaW, vgaH, func(x, y int) float64 { return 60 + float64(x+y)/10 }).noisy(sigma, 9)
		f := crop(c.photo().Pixels, valve(), fieldStop{radius: math.Inf(1)})
		// The smoothest fifth of noisy blocks is some 15 % below the mean.
		assert.InDelta(t, 0.87*sigma, noise(f.plane), 0.1*sigma+0.05)
	}
}

func TestNothingMasked(t *testing.T) {
	p := leaves(vgaW, vgaH, 1, 40, 200).photo()
	q := Assess(p, image.NewGray(p.Pixels.Rect))
	assert.Zero(t, q.ValveShare)
	for name, v := range map[string]float64{"luminance": q.Luminance, "signal": q.Signal, "black": q.Black, "glare": q.Glare,
		"sharpness": q.Sharpness, "motion": q.Motion, "radius": q.ValveRadius} {
		assert.True(t, math.IsNaN(v), name)
	}
}

func TestMaskOfOnePixelAndMaskAtTheBorder(t *testing.T) {
	p := leaves(vgaW, vgaH, 1, 40, 200).photo()
	one := image.NewGray(p.Pixels.Rect)
	one.Pix[0] = 1
	q := Assess(p, one)
	assert.InDelta(t, 1.0/(vgaW*vgaH), q.ValveShare, 1e-9)
	assert.True(t, math.IsNaN(q.Signal))
	cut := Assess(p, disc(vgaW, vgaH, 0, 240, 150))
	assert.InDelta(t, math.Pi*150*150/2/(vgaW*vgaH), cut.ValveShare, 1e-3)
	assert.False(t, math.IsNaN(cut.Sharpness))
}

func TestFieldStop(t *testing.T) {
	inside := leaves(vgaW, vgaH, 4, 40, 200)
	for _, c := range []struct{ x, y, radius float64 }{{320, 240, 230}, {310, 250, 200}, {330, 235, 300}} {
		t.Run(fmt.Sprint(c), func(t *testing.T) {
			round := newCanvas(vgaW, vgaH, func(x, y int) float64 {
				if x > 20 && x < 200 && y > 450 && y < 466 && x/4%2 == 0 {
					return 250 // a date text
				}
				if math.Hypot(float64(x)-c.x, float64(y)-c.y) < c.radius {
					return inside.v[y*vgaW+x]
				}
				return 3
			}).noisy(1, 5)
			stop := findFieldStop(round.photo().Pixels)
			assert.InDelta(t, c.radius, stop.radius, 4, "rays stop one pixel inside, and the text misleads a few")
			assert.InDelta(t, c.x, stop.x, 3)
			assert.InDelta(t, c.y, stop.y, 3)
			q := Assess(round.photo(), valve())
			assert.InDelta(t, math.Pi*120*120/stop.area(image.Pt(vgaW, vgaH)), q.ValveShare, 1e-3)
		})
	}
	require.True(t, math.IsInf(findFieldStop(inside.photo().Pixels).radius, 1), "a full frame has none")
	black := newCanvas(vgaW, vgaH, func(int, int) float64 { return 2 })
	assert.True(t, math.IsInf(findFieldStop(black.photo().Pixels).radius, 1), "nor has a black one")
}

func TestAssessRepeats(t *testing.T) {
	p := leaves(vgaW, vgaH, 6, 40, 200).blurred(2).noisy(3, 1).photo()
	assert.Equal(t, Assess(p, valve()), Assess(p, valve()))
}
