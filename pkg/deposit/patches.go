package deposit

// clipped says for each pixel of a box whether the camera recorded anything there. It takes a byte for each, so that a photo without
// anything to see costs no more than another.
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

// patches returns the places of all pixels of a kind that lie in 4-connected patches of at least `smallest`, patch by patch.
func (c *clipped) patches(kind uint8, smallest int) []int32 {
	var kept []int32
	for i := range c.kind {
		if c.kind[i] != kind {
			continue
		}
		before := len(kept)
		kept = c.flood(kept, i)
		if len(kept)-before < smallest {
			for _, at := range kept[before:] {
				c.kind[at] = tooSmall
			}
			kept = kept[:before]
		}
	}
	return kept
}

// flood appends the patch around pixel i to found and moves its pixels to the kind of those in patches.
func (c *clipped) flood(found []int32, i int) []int32 {
	kind := c.kind[i]
	take := func(at int) {
		if c.kind[at] == kind {
			c.kind[at] = kind + inPatch
			found = append(found, int32(at))
		}
	}
	next := len(found)
	take(i)
	for ; next < len(found); next++ {
		at := int(found[next])
		if x := at % c.width; x > 0 {
			take(at - 1)
		}
		if x := at % c.width; x+1 < c.width {
			take(at + 1)
		}
		if at >= c.width {
			take(at - c.width)
		}
		if at+c.width < len(c.kind) {
			take(at + c.width)
		}
	}
	return found
}

// surrounded reports whether the four pixels next to one in a patch are in the same.
func (c *clipped) surrounded(at int) bool {
	x, kind := at%c.width, c.kind[at]
	return x > 0 && x+1 < c.width && at >= c.width && at+c.width < len(c.kind) &&
		c.kind[at-1] == kind && c.kind[at+1] == kind && c.kind[at-c.width] == kind && c.kind[at+c.width] == kind
}
