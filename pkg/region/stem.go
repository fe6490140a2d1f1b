package region

import (
	"image"
	"math"

	"valvegrade/internal/raster"
)

const (
	// elongated is the ratio of spreads from which the pixels of a stem alone tell its direction, and mostAside how
	// far, in degrees, that may be from the way to the middle of the head; a stubbier stem, or a crescent that the
	// guide leaves of one, is taken to point at the head.
	elongated, mostAside = 1.6, 40.0
	// sliceLength is how much of the stem's length one slice takes, in pixels.
	sliceLength = 2.0
	// A slice within this share of the median slice's pixels is full: not cut by an end of the stem, and of the width
	// that a stem narrowed by perspective has in its middle. The stem reaches as far as slices hold half of the median.
	fullWithin, leastSlice = 0.15, 0.5
	// fewestSlices is the least number of full slices that make a line of their own; largestTurn, in degrees, is how
	// far that line may turn from the first direction.
	fewestSlices, largestTurn = 6, 25.0
)

// beside returns the distance of p from the stem's centre line, which goes on beyond the far end but not into the head:
// +Inf on the head's side.
func (l *Line) beside(p Point) float64 {
	to := Point{l.X2 - l.X1, l.Y2 - l.Y1}
	d := p.minus(Point{l.X2, l.Y2})
	if d.dot(to) > 0 {
		return math.Inf(1)
	}
	return math.Abs(d.cross(to)) / to.length()
}

// measureStem returns the centre line and mean width of the stem pixels, in pixels of the mask; nil when there are too
// few. The centre line is the total least squares line through the middles of slices across the stem, which unlike the
// axis of all pixels does not tilt with an end that is cut askew by guide or fillet.
func measureStem(mask *image.Gray, c *census) *Line {
	stem, head := &c[Stem], &c[Head]
	if stem.pixels == 0 || float64(stem.pixels) < smallestStem*float64(head.pixels) {
		return nil
	}
	through := stem.centroid()
	along := stemDirection(mask, stem, head)
	cut := slice(mask, stem.box, through, along)
	for range 2 {
		middles := cut.middles()
		if len(middles) < fewestSlices {
			break
		}
		point, turned, err := FitLine(middles)
		if turned.dot(along) < 0 {
			turned = turned.times(-1)
		}
		if err != nil || turned.dot(along) < math.Cos(largestTurn*math.Pi/180) {
			break
		}
		through, along = point, turned
		cut = slice(mask, stem.box, through, along)
	}
	return cut.line()
}

// stemDirection returns the unit direction of the stem towards the head: its longest extent, or, where that misleads,
// the way to the middle of the head.
func stemDirection(mask *image.Gray, stem, head *tally) Point {
	centre := stem.centroid()
	var s scatter
	eachRun(mask, stem.box, Stem, func(y, from, to int) {
		s.addRun(Point{float64(from), float64(y)}.minus(centre), to-from)
	})
	along, ratio := s.axis()
	if head.pixels == 0 {
		return along
	}
	toHead := head.centroid().minus(centre)
	if along.dot(toHead) < 0 {
		along = along.times(-1)
	}
	aside := along.dot(toHead) < math.Cos(mostAside*math.Pi/180)*toHead.length()
	if (aside || !(ratio >= elongated)) && toHead.length() > 0 {
		return toHead.times(1 / toHead.length())
	}
	return along
}

// eachRun visits the runs [from, to) of a label in the rows of a box.
func eachRun(mask *image.Gray, box image.Rectangle, label uint8, visit func(y, from, to int)) {
	for y := box.Min.Y; y < box.Max.Y; y++ {
		row := mask.Pix[y*mask.Stride:][:box.Max.X]
		for from := box.Min.X; from < len(row); {
			to := raster.RunEnd(row, from)
			if row[from] == label {
				visit(y, from, to)
			}
			from = to
		}
	}
}

// sliced is a stem cut across a line into slices of equal length.
type sliced struct {
	through, along Point
	start          float64 // place of the first slice's near edge along the line
	pixels         []float64
	offset         []float64 // sum of the signed distances from the line
	median         float64   // pixels of the median slice
}

func slice(mask *image.Gray, box image.Rectangle, through, along Point) *sliced {
	reach := math.Hypot(float64(box.Dx()), float64(box.Dy()))
	n := int(2*reach/sliceLength) + 2
	s := &sliced{through: through, along: along, start: -reach, pixels: make([]float64, n), offset: make([]float64, n)}
	eachRun(mask, box, Stem, func(y, from, to int) {
		for from < to {
			d := Point{float64(from), float64(y)}.minus(through)
			at := (d.dot(along) - s.start) / sliceLength
			k := int(at) // within 0 to n-1, for nothing in the box lies farther off than reach
			n := min(to-from, runWithin(at, along.X/sliceLength))
			s.pixels[k] += float64(n)
			// The distance from the line changes evenly along the run.
			s.offset[k] += float64(n) * (along.cross(d) - along.Y*float64(n-1)/2)
			from += n
		}
	})
	var used []float64
	for _, count := range s.pixels {
		if count > 0 {
			used = append(used, count)
		}
	}
	s.median = median(used)
	return s
}

// runWithin returns how many steps a place, 0 and up, takes to leave its whole number, at most the longest run; 1 at
// least.
func runWithin(at, step float64) int {
	whole := math.Floor(at)
	switch {
	case step > 0:
		return max(1, int(min(math.Ceil((whole+1-at)/step), math.MaxInt32)))
	case step < 0:
		return max(1, int(min(math.Floor((whole-at)/step)+1, math.MaxInt32)))
	}
	return math.MaxInt32
}

// full reports whether slice k spans the whole width.
func (s *sliced) full(k int) bool { return math.Abs(s.pixels[k]-s.median) <= fullWithin*s.median }

// middles returns the middle of each full slice.
func (s *sliced) middles() []Point {
	across := Point{-s.along.Y, s.along.X}
	var middles []Point
	for k, count := range s.pixels {
		if s.full(k) {
			on := s.through.plus(s.along.times(s.start + (float64(k)+0.5)*sliceLength))
			middles = append(middles, on.plus(across.times(s.offset[k]/count)))
		}
	}
	return middles
}

// line returns the centre line as far as the stem reaches, with the mean width of the full slices.
func (s *sliced) line() *Line {
	first, last, full, sum := -1, -1, 0.0, 0.0
	for k, count := range s.pixels {
		if count < leastSlice*s.median {
			continue
		}
		if first < 0 {
			first = k
		}
		last = k
		if s.full(k) {
			full, sum = full+1, sum+count
		}
	}
	from := s.through.plus(s.along.times(s.start + float64(first)*sliceLength))
	to := s.through.plus(s.along.times(s.start + float64(last+1)*sliceLength))
	return &Line{from.X, from.Y, to.X, to.Y, sum / (full * sliceLength)}
}

// fitStem measures the stem on the grid, in photo pixels; nil when there is none.
func (p *proposal) fitStem() *Line {
	cells := &image.Gray{Pix: p.label, Stride: p.Cols, Rect: image.Rect(0, 0, p.Cols, p.Rows)}
	l := measureStem(cells, takeCensus(cells))
	if l == nil {
		return nil
	}
	from, to := p.at(l.X1, l.Y1), p.at(l.X2, l.Y2)
	// Cells are square to within the rounding of the letterbox, so one factor serves both directions.
	return &Line{from.X, from.Y, to.X, to.Y, l.Width * math.Sqrt(p.CellWidth*p.CellHeight)}
}
