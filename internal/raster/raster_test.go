package raster

import (
	"bytes"
	"image"
	"image/color"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestRunEnd(t *testing.T) {
	for length := 1; length < 40; length++ {
		row := append(bytes.Repeat([]byte{7}, 3+length), 8, 7)
		assert.Equal(t, 3+length, RunEnd(row, 3))
		assert.Equal(t, 3+length, RunEnd(row[:3+length], 3), "at the end of the row")
	}
}

func TestFlood(t *testing.T) {
	pixels := []uint8{
		1, 1, 0, 9,
		0, 0, 0, 9,
		1, 0, 0, 0,
		0, 1, 0, 0,
	}
	assert.Equal(t, []int32{5, 8, 13}, Flood([]int32{5}, slices.Clone(pixels), 4, 8, 2, true), "appended")
	assert.Equal(t, []int32{8}, Flood(nil, slices.Clone(pixels), 4, 8, 2, false), "a corner is not enough")
	assert.Equal(t, []int32{3, 7}, Flood(nil, pixels, 4, 3, 2, true), "not across the edge")
	assert.Equal(t, []uint8{1, 1, 0, 2, 0, 0, 0, 2, 1, 0, 0, 0, 0, 1, 0, 0}, pixels)
	assert.Len(t, Flood(nil, bytes.Repeat([]byte{1}, 12), 4, 5, 0, true), 12)
}

func TestPlacesBetweenCells(t *testing.T) {
	want := []Between{{0, 1, 0}, {0, 1, 0.25}, {0, 1, 0.75}, {1, 1, 0}}
	assert.Equal(t, want, Places(0, 4, 2, 2), "two cells of two pixels")
	assert.Equal(t, Places(0, 100, 3.7, 27)[20:50], Places(20, 50, 3.7, 27), "a stretch of an axis is that stretch")
	assert.Equal(t, Between{3, 3, 0}, At(1.5, 3, 3), "one cell holds everywhere")
	assert.Equal(t, []int{3, 4}, Ends(Places(0, 4, 2, 2)))
	last := 0
	for _, end := range Ends(Places(0, 100, 3.7, 27)) {
		assert.Greater(t, end, last)
		last = end
	}
	assert.Equal(t, 100, last)
}

func TestOpaqueIsTheSamePicture(t *testing.T) {
	whole := image.NewNRGBA(image.Rect(0, 0, 5, 4))
	for i := range whole.Pix {
		whole.Pix[i] = uint8(7*i) | uint8(i&3/3*0xff)
	}
	part := whole.SubImage(image.Rect(1, 1, 4, 3)).(*image.NRGBA)
	opaque := Opaque(part)
	assert.Equal(t, part.Rect, opaque.Rect)
	for y := 1; y < 3; y++ {
		for x := 1; x < 4; x++ {
			assert.Equal(t, color.RGBAModel.Convert(part.At(x, y)), opaque.At(x, y))
		}
	}
}
