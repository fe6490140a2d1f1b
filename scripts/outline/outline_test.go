package outline

import (
	"image"
	"testing"

	"github.com/stretchr/testify/assert"
)

// mask draws rows of digits.
func mask(rows ...string) *image.Gray {
	m := image.NewGray(image.Rect(0, 0, len(rows[0]), len(rows)))
	for y, row := range rows {
		for x, code := range row {
			m.Pix[y*m.Stride+x] = uint8(code - '0')
		}
	}
	return m
}

func TestTheClosestOutlineIsNoLargerOneBesideIt(t *testing.T) {
	known := mask(
		"11220033",
		"11220034")
	beside, upon := mask("00000111", "00000111"), mask("11200000", "11200000")
	place, overlap := Closest(Valve(known, 1), []*image.Gray{beside, upon})
	assert.Equal(t, 1, place)
	assert.InDelta(t, 6./8, overlap, 1e-12)
	place, overlap = Closest(Valve(known, 2), []*image.Gray{beside, upon})
	assert.Equal(t, 0, place)
	assert.InDelta(t, 4./6, overlap, 1e-12, "head and stem are one valve")
	place, overlap = Closest(Valve(known, 3), []*image.Gray{beside, upon})
	assert.Equal(t, -1, place, "the mask shows no such valve")
	assert.Zero(t, overlap)
	place, _ = Closest(Valve(known, 1), nil)
	assert.Equal(t, -1, place)
}
