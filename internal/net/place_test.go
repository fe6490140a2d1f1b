package net

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestPlace(t *testing.T) {
	cases := []struct {
		name          string
		width, height int
		want          placement
	}{
		{"borescope 4:3", 640, 480, placement{640, 480, false, 0, 8, 320, 240}},
		{"wide", 1920, 1080, placement{1920, 1080, false, 0, 38, 320, 180}},
		{"the frame's own aspect", 1280, 1024, placement{1280, 1024, false, 0, 0, 320, 256}},
		{"square", 1000, 1000, placement{1000, 1000, false, 32, 0, 256, 256}},
		{"odd margin: the odd pixel is below", 600, 400, placement{600, 400, false, 0, 21, 320, 213}},
		{"portrait is turned", 480, 640, placement{480, 640, true, 0, 8, 320, 240}},
		{"small photos grow", 160, 120, placement{160, 120, false, 0, 8, 320, 240}},
		{"never thinner than a pixel", 64000, 1, placement{64000, 1, false, 0, 127, 320, 1}},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) { assert.Equal(t, c.want, place(c.width, c.height)) })
	}
}

func TestTurnIsClockwise(t *testing.T) {
	p := place(480, 640)
	width, height := p.upright()
	assert.Equal(t, [2]int{240, 320}, [2]int{width, height})
	x, y := p.framePixel(0, 0)
	assert.Equal(t, [2]int{319, 8}, [2]int{x, y}, "the upper left corner goes to the upper right")
	x, y = p.framePixel(239, 0)
	assert.Equal(t, [2]int{319, 247}, [2]int{x, y}, "the upper right corner goes to the lower right")
}
