package net

import (
	"image"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestPlace(t *testing.T) {
	cases := []struct {
		name          string
		width, height int
		want          placement
	}{
		{"borescope 4:3", 640, 480, placement{image.Rect(0, 0, 640, 480), false, 0, 8, 320, 240}},
		{"wide", 1920, 1080, placement{image.Rect(0, 0, 1920, 1080), false, 0, 38, 320, 180}},
		{"the frame's own aspect", 1280, 1024, placement{image.Rect(0, 0, 1280, 1024), false, 0, 0, 320, 256}},
		{"square", 1000, 1000, placement{image.Rect(0, 0, 1000, 1000), false, 32, 0, 256, 256}},
		{"odd margin: the odd pixel is below", 600, 400, placement{image.Rect(0, 0, 600, 400), false, 0, 21, 320, 213}},
		{"portrait is turned", 480, 640, placement{image.Rect(0, 0, 480, 640), true, 0, 8, 320, 240}},
		{"small photos grow", 160, 120, placement{image.Rect(0, 0, 160, 120), false, 0, 8, 320, 240}},
		{"never thinner than a pixel", 64000, 1, placement{image.Rect(0, 0, 64000, 1), false, 0, 127, 320, 1}},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) { assert.Equal(t, c.want, placeWhole(c.width, c.height)) })
	}
}

func TestTurnIsClockwise(t *testing.T) {
	p := placeWhole(480, 640)
	width, height := p.upright()
	assert.Equal(t, [2]int{240, 320}, [2]int{width, height})
	x, y := p.framePixel(0, 0)
	assert.Equal(t, [2]int{319, 8}, [2]int{x, y}, "the upper left corner goes to the upper right")
	x, y = p.framePixel(239, 0)
	assert.Equal(t, [2]int{319, 247}, [2]int{x, y}, "the upper right corner goes to the lower right")
}

func TestWindows(t *testing.T) {
	cases := []struct {
		name string
		box  Box
		want placement
	}{
		{
			"in the middle of its window",
			Box{160, 120, 480, 376},
			placement{image.Rect(120, 88, 520, 408), false, 0, 0, 320, 256},
		},
		{
			"beyond the left edge is margin",
			Box{0, 120, 320, 376},
			placement{image.Rect(0, 88, 360, 408), false, 32, 0, 288, 256},
		},
		{
			"high ones fill the height",
			Box{300, 100, 340, 356},
			placement{image.Rect(120, 68, 520, 388), false, 0, 0, 320, 256},
		},
		{
			"tiny ones grow no further",
			Box{320, 240, 321, 241},
			placement{image.Rect(312, 234, 329, 247), false, 0, 0, 320, 256},
		},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			p, err := placeWindow(640, 480, c.box)
			require.NoError(t, err)
			assert.Equal(t, c.want, p)
		})
	}
	_, err := placeWindow(640, 480, Box{1000, 1000, 1100, 1100})
	assert.Error(t, err, "nothing to see")
}

func TestBoxesComeBack(t *testing.T) {
	for _, size := range [][2]int{{640, 480}, {480, 640}, {1000, 1000}, {1920, 1080}} {
		p := placeWhole(size[0], size[1])
		want := Box{float64(size[0]) / 4, float64(size[1]) / 3, float64(size[0]) / 2, float64(size[1]) / 2}
		scale := float64(p.width) / float64(max(size[0], size[1]))
		left, top, right, bottom := want.Left*scale, want.Top*scale, want.Right*scale, want.Bottom*scale
		if p.turned { // clockwise: what was below is on the left
			left, top, right, bottom = float64(p.width)-bottom, left, float64(p.width)-top, right
		}
		x, y := float64(p.left), float64(p.top)
		got := p.photoBox(left+x, top+y, right+x, bottom+y)
		assert.InDeltaSlice(
			t,
			[]float64{want.Left, want.Top, want.Right, want.Bottom},
			[]float64{got.Left, got.Top, got.Right, got.Bottom},
			1e-9,
			"%v; float64 rounding",
			size,
		)
	}
}
