package raster

import (
	"bytes"
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

func TestComponents(t *testing.T) {
	pixels := []uint8{
		1, 1, 0, 9,
		0, 0, 0, 9,
		1, 0, 0, 0,
		0, 1, 0, 0,
	}
	assert.Equal(t, [][]int{{0, 1}, {3, 7}, {8, 13}}, Components(pixels, 4, true))
	assert.Equal(t, [][]int{{0, 1}, {3, 7}, {8}, {13}}, Components(pixels, 4, false))
	assert.Empty(t, Components(make([]uint8, 16), 4, true))
	assert.Len(t, Components(bytes.Repeat([]byte{1}, 12), 4, false)[0], 12, "no pixel hangs together with one beyond the edge")
}

func TestPlacesBetweenCells(t *testing.T) {
	assert.Equal(t, []Between{{0, 1, 0}, {0, 1, 0.25}, {0, 1, 0.75}, {1, 1, 0}}, Places(0, 4, 2, 2), "two cells of two pixels")
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
