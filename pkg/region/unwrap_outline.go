package region

import "math"

const (
	// roughSectors is the least number of the 36 sectors of 10 degrees that the rim in view must span: less tells no
	// rim from a straight edge.
	roughSectors = 7
	// roughPoints is about how many points of the rim are fitted to.
	roughPoints = 400
	// frameMargin is how far from the edge of the photo, in pixels, the rim begins: at the edge the outline is the
	// photo's own.
	frameMargin = 3
	// The shape of heads: the shorter axis against the longer one; the longer one in stem widths, which measures 5 to
	// 6.5 but looks less to a lens close to the stem; how far from the middle, in radii, a tall fillet can lift the
	// stem's foot.
	flattestHead         = 0.35
	narrowest, widest    = 2.5, 12
	farthestFoot         = 1.5
	leftOut, justOutside = 0.05, 1.1 // share of the head's pixels that may lie beyond this level
	takenIn, justInside  = 0.5, 0.95 // background within this level, as share of the head's pixels: what hides the head
)

// Outline returns the ellipse of the head for unwrapping: the region's own, else the one that fits best what is seen of
// the rim, if it has the shape of a head. nil when there is no such ellipse. Unlike Ellipse it may rest on a short arc:
// what is far from that arc is rough.
func (r *Region) Outline() *Ellipse {
	if r.Ellipse != nil {
		return r.Ellipse
	}
	points := nearHull(r.rim(), 2)
	if step := len(points) / roughPoints; step > 1 {
		points = every(points, step)
	}
	e, err := steadyEllipse(points)
	if err != nil {
		return nil
	}
	off := e.distances(points)
	most := math.Max(2*median(off), frameMargin)
	var rim []Point
	for i, p := range points {
		if off[i] <= most {
			rim = append(rim, p)
		}
	}
	e, err = FitEllipse(rim)
	if err != nil || len(rim) < rimPoints || sectors(e, rim) < roughSectors || misfit(e, rim) > rimMisfit {
		return nil
	}
	if !e.shapedLikeHead(r.Axis) || !r.fills(e) {
		return nil
	}
	return &e
}

// rim returns the head's pixels that touch the background, but for those at the edge of the photo.
func (r *Region) rim() []Point {
	var points []Point
	width, height := r.Mask.Rect.Dx(), r.Mask.Rect.Dy()
	at := func(x, y int) uint8 { return r.Mask.Pix[y*r.Mask.Stride+x] }
	for y := frameMargin; y < height-frameMargin; y++ {
		for x := frameMargin; x < width-frameMargin; x++ {
			if at(x, y) == Head &&
				(at(x-1, y) == Background || at(x+1, y) == Background || at(x, y-1) == Background || at(x, y+1) == Background) {
				points = append(points, Point{float64(x), float64(y)})
			}
		}
	}
	return points
}

// shapedLikeHead reports whether a head on this stem (nil when hidden) can look like the ellipse.
func (e Ellipse) shapedLikeHead(stem *Line) bool {
	if e.B < flattestHead*e.A {
		return false
	}
	if stem == nil {
		return true
	}
	across := 2 * e.A / stem.Width
	return across >= narrowest && across <= widest && e.Level(Point{stem.X2, stem.Y2}) <= farthestFoot
}

// fills reports whether an ellipse goes around the head that is seen, and around not much else.
func (r *Region) fills(e Ellipse) bool {
	beyond, within := 0.0, 0.0
	circle := e.circle()
	width := r.Mask.Rect.Dx()
	for y := range r.Mask.Rect.Dy() {
		for x, label := range r.Mask.Pix[y*r.Mask.Stride:][:width] {
			if label == Stem {
				continue
			}
			level := circle.of(Point{float64(x), float64(y)}).length()
			if label == Head && level > justOutside {
				beyond++
			}
			if label == Background && level < justInside {
				within++
			}
		}
	}
	head := float64(r.HeadPixels)
	return beyond < leftOut*head && within < takenIn*head
}
