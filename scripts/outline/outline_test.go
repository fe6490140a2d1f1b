package outline

import (
	"image"
	"testing"

	"github.com/stretchr/testify/assert"

	"valvegrade/scripts/outline/drawn"
)

func TestTheClosestOutlineIsNoLargerOneBesideIt(t *testing.T) {
	known := drawn.Mask(
		"11220033",
		"11220034")
	beside, upon := drawn.Mask("00000111", "00000111"), drawn.Mask("11200000", "11200000")
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
