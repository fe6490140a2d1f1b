package deposit

import "valvegrade/internal/raster"

// clipped says for each pixel of a box whether the camera recorded anything there. It takes a byte for each, so that a
// photo without anything to see costs no more than another.
type clipped struct {
	width int
	kind  []uint8
}

// Kinds of pixels: those to be looked at, then those found to lie in a patch or apart from one.
const (
	otherPixel = iota
	burntPixel
	blackPixel
	inPatch  // added to the kind
	tooSmall = 2 * inPatch
)

// patches returns the places of all pixels of a kind that lie in 4-connected patches of at least `smallest`, patch by
// patch.
func (c *clipped) patches(kind uint8, smallest int) []int32 {
	var kept []int32
	for i := range c.kind {
		if c.kind[i] != kind {
			continue
		}
		before := len(kept)
		kept = raster.Flood(kept, c.kind, c.width, i, kind+inPatch, false)
		if len(kept)-before < smallest {
			for _, at := range kept[before:] {
				c.kind[at] = tooSmall
			}
			kept = kept[:before]
		}
	}
	return kept
}

// surrounded reports whether the four pixels next to one in a patch are in the same.
func (c *clipped) surrounded(at int) bool {
	x, kind := at%c.width, c.kind[at]
	return x > 0 && x+1 < c.width && at >= c.width && at+c.width < len(c.kind) &&
		c.kind[at-1] == kind && c.kind[at+1] == kind && c.kind[at-c.width] == kind && c.kind[at+c.width] == kind
}
