package region

import (
	"image"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// seen is a region of 320 x 240 pixels that shows what of marks lies in the frame and not behind cover.
func seen(m Marks, cover func(x, y int) bool) *Region {
	mask := m.draw(320, 240)
	r := &Region{Mask: mask, Axis: m.Stem}
	for i, label := range mask.Pix {
		if cover(i%320, i/320) {
			mask.Pix[i] = Background
			continue
		}
		switch label {
		case Head:
			r.HeadPixels++
		case Stem:
			r.StemPixels++
		}
	}
	return r
}

func nothing(int, int) bool { return false }

func TestOutlineOfAHeadThatReachesOutOfThePhoto(t *testing.T) {
	for name, head := range map[string]Ellipse{
		"to the right":                {260, 130, 120, 95, 20},
		"down":                        {160, 200, 130, 110, 100},
		"at three sides":              {160, 130, 175, 130, 0},
		"whole, but no one fitted it": {160, 120, 100, 80, 45},
	} {
		stem := &Line{20, 10, head.X - 20, head.Y - 15, 40}
		e := seen(Marks{Head: head, Stem: stem}, nothing).Outline()
		require.NotNil(t, e, name)
		for degrees := 0.0; degrees < 360; degrees += 10 {
			p := head.At(degrees)
			off := 0.2 // radii: what follows from the rim in view
			if p.X > 0 && p.X < 319 && p.Y > 0 && p.Y < 239 {
				off = 0.03 // pixels
			}
			assert.InDelta(t, 1, e.Level(p), off, "%s, at %v degrees", name, degrees)
		}
	}
}

func TestOutlineBehindAGuide(t *testing.T) {
	head := Ellipse{160, 120, 110, 90, 10}
	guide := func(x, y int) bool { return float64(y) > 130+0.2*float64(x-160) && x > 120 }
	e := seen(Marks{Head: head}, guide).Outline()
	require.NotNil(t, e)
	assert.InDelta(t, head.A, e.A, 8, "pixels; the straight edge of the guide is no rim")
	assert.InDelta(t, head.B, e.B, 8, "pixels; the straight edge of the guide is no rim")
}

func TestRegionsOwnEllipseIsTheOutline(t *testing.T) {
	r := seen(Marks{Head: Ellipse{160, 120, 110, 90, 10}}, nothing)
	r.Ellipse = &Ellipse{1, 2, 3, 2, 0}
	assert.Same(t, r.Ellipse, r.Outline())
}

func TestWhatHasNoOutline(t *testing.T) {
	head := Ellipse{160, 120, 110, 90, 10}
	for name, r := range map[string]*Region{
		"nothing":                    {Mask: image.NewGray(image.Rect(0, 0, 320, 240))},
		"head fills the photo":       seen(Marks{Head: Ellipse{160, 120, 900, 900, 0}}, nothing),
		"two straight edges":         seen(Marks{Head: Ellipse{160, 120, 900, 900, 0}}, func(x, y int) bool { return x+y < 150 || x-y > 200 }),
		"a strip":                    seen(Marks{Head: Ellipse{160, 120, 900, 900, 0}}, func(_, y int) bool { return y < 100 || y > 130 }),
		"much too wide a stem":       seen(Marks{Head: head, Stem: &Line{160, -400, 160, 40, 120}}, nothing),
		"stem beside the head":       seen(Marks{Head: Ellipse{90, 120, 70, 60, 0}, Stem: &Line{310, 10, 250, 120, 20}}, nothing),
		"flat as seen from the edge": seen(Marks{Head: Ellipse{160, 120, 120, 30, 0}}, nothing),
	} {
		assert.Nil(t, r.Outline(), name)
	}
}

func TestLevelsOfTheHead(t *testing.T) {
	e := Ellipse{100, 80, 50, 40, 0}
	assert.True(t, e.shapedLikeHead(nil))
	assert.True(t, e.shapedLikeHead(&Line{100, -50, 100, 30, 18}))
	assert.False(t, e.shapedLikeHead(&Line{100, -150, 100, 80 - 40*1.6, 18}), "foot beyond a radius and a half")
	assert.False(t, Ellipse{100, 80, 50, 17, 0}.shapedLikeHead(nil))
	assert.False(t, e.shapedLikeHead(&Line{100, -50, 100, 30, math.Nextafter(50*2/narrowest, 100)}))
}
