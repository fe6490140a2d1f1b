package net

import (
	"cmp"
	"math"
	"slices"
)

// The maps of the first look: logit of a valve's middle, logit of any valve, and the logarithms of the distances to the
// left, top, right and bottom of the valve whose middle is here, in units of sideUnit pixels of the frame. A cell is
// 4x4 pixels.
const (
	finderMaps, finderFrame = 6, 5
	finderCell              = 4
	finderCols, finderRows  = frameWidth / finderCell, frameHeight / finderCell
	sideUnit                = 32
	farthestSide            = 4 // of a side's logarithm, either way
)

const (
	// leastMiddle is the probability from which on a place is taken for the middle of a valve. The second look has the
	// last word, so a wrong box costs its time alone, and a missed one the valve.
	leastMiddle = 0.15
	// MostValves is how many valves of a photo are looked at: a port has one to three.
	MostValves = 4
	// sameValve is the intersection over union from which on two boxes are of one valve.
	sameValve = 0.45
	// mostlyInside is the share of the smaller one of two boxes within the other from which on they are of one valve: of a
	// port's valves none stands in front of the whole of another.
	mostlyInside = 0.75
	// apartCells is how far around a middle no other is looked for.
	apartCells = 2
)

// Box is a rectangle in photo pixels, which may reach beyond the photo: the pixel (x, y) covers [x, x+1) and [y, y+1).
type Box struct{ Left, Top, Right, Bottom float64 }

// Seen is a valve that the first look found.
type Seen struct {
	Box Box
	// Probability that its middle is a valve's, 0 to 1.
	Probability float64
}

// Sighting is what the first look says of a photo.
type Sighting struct {
	// Valves are the valves in view, the surest first.
	Valves []Seen
	// Judgeable, Dark, Bright, Blurred and Moving are probabilities.
	Judgeable, Dark, Bright, Blurred, Moving float64
}

// readSighting reads the raw maps of the first look at a whole photo.
func readSighting(maps, frame []float32, p placement) *Sighting {
	s := &Sighting{
		Judgeable: sigmoid(frame[0]), Dark: sigmoid(frame[1]), Bright: sigmoid(frame[2]),
		Blurred: sigmoid(frame[3]), Moving: sigmoid(frame[4]),
	}
	const plane = finderCols * finderRows
	for at, logit := range maps[:plane] {
		if probability := sigmoid(logit); probability >= leastMiddle && highest(maps[:plane], at) {
			s.Valves = append(s.Valves, Seen{boxAt(maps, at, p), probability})
		}
	}
	slices.SortStableFunc(s.Valves, func(a, b Seen) int { return cmp.Compare(b.Probability, a.Probability) })
	s.Valves = distinct(s.Valves)
	return s
}

// highest reports whether no cell within apartCells is higher, and none before it as high.
func highest(heat []float32, at int) bool {
	column, row := at%finderCols, at/finderCols
	for y := max(0, row-apartCells); y <= min(finderRows-1, row+apartCells); y++ {
		for x := max(0, column-apartCells); x <= min(finderCols-1, column+apartCells); x++ {
			other := y*finderCols + x
			if heat[other] > heat[at] || other < at && heat[other] == heat[at] {
				return false
			}
		}
	}
	return true
}

// boxAt returns the box that the cell tells of, in photo pixels.
func boxAt(maps []float32, at int, p placement) Box {
	x, y := (float64(at%finderCols)+0.5)*finderCell, (float64(at/finderCols)+0.5)*finderCell
	side := func(k int) float64 {
		logarithm := float64(maps[(2+k)*finderCols*finderRows+at])
		return sideUnit * math.Exp(min(max(logarithm, -farthestSide), farthestSide))
	}
	return p.photoBox(x-side(0), y-side(1), x+side(2), y+side(3))
}

// distinct leaves the surer of boxes that are of one valve, and of all the surest MostValves.
func distinct(valves []Seen) []Seen {
	var kept []Seen
	for _, v := range valves {
		same := func(k Seen) bool {
			return v.Box.overlap(k.Box) >= sameValve || v.Box.shared(k.Box) >= mostlyInside*min(v.Box.area(), k.Box.area())
		}
		if len(kept) < MostValves && !slices.ContainsFunc(kept, same) {
			kept = append(kept, v)
		}
	}
	return kept
}

func (b Box) area() float64 { return max(0, b.Right-b.Left) * max(0, b.Bottom-b.Top) }

// shared is the area that two boxes have in common.
func (b Box) shared(c Box) float64 {
	return Box{max(b.Left, c.Left), max(b.Top, c.Top), min(b.Right, c.Right), min(b.Bottom, c.Bottom)}.area()
}

// overlap is the intersection over union of two boxes, 0 to 1.
func (b Box) overlap(c Box) float64 {
	both := b.shared(c)
	return both / (b.area() + c.area() - both)
}
