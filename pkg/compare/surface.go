package compare

import (
	"image"
	"math"

	"valvegrade/pkg/deposit"
	"valvegrade/pkg/region"
)

// The map of a valve: one column per degree clockwise from 12, where the stem leans; rows from where the stem stands to the
// rim, then up the stem. As on a clock face seen from the lens, 3 is to the right of a stem that points up.
const (
	columns         = 360
	headRows        = 64
	rowsPerDiameter = 6
	stemRows        = 8 * rowsPerDiameter
	rows            = headRows + stemRows
)

// surface is a valve rolled out flat; cells are counted row by row.
type surface struct {
	// class holds a class of package deposit for each cell; NotValve where the photo does not show it.
	class []uint8
	// weight is the share of the photo's readable valve that a cell stands for; 0 where nothing can be read. Sums to 1.
	weight []float64
	// tone is the pattern of the head's cells: log luminance without what is smooth; 0 where nothing can be read.
	tone []float32
	// oriented is true when a stem says where 12 is.
	oriented bool
}

// readable reports whether the photo tells what lies on the cell.
func (s *surface) readable(cell int) bool { return s.class[cell] <= deposit.Heavy }

// roll makes the map of a valve whose head has the outline rim.
func roll(photo *image.NRGBA, rim region.Ellipse, r *region.Region, classes *image.Gray) (*surface, error) {
	u := region.NewUnwrap(rim, r.Axis)
	s := &surface{class: make([]uint8, rows*columns), weight: make([]float64, rows*columns), oriented: r.Axis != nil}
	sum := 0.0
	for cell := range s.class {
		p, area, ok := place(u, cell)
		s.class[cell] = classAt(p, ok, labelOf(cell), r.Mask, classes)
		if s.readable(cell) {
			s.weight[cell] = area
			sum += area
		}
	}
	for cell := range s.weight {
		s.weight[cell] /= max(sum, math.SmallestNonzeroFloat64)
	}
	var err error
	s.tone, err = toneOf(photo, u, s)
	return s, err
}

func labelOf(cell int) uint8 {
	if cell < headRows*columns {
		return region.Head
	}
	return region.Stem
}

// place returns the pixel of a cell's centre and how many pixels the cell covers. ok is false where the valve turns its back.
func place(u region.Unwrap, cell int) (centre region.Point, area float64, ok bool) {
	row, angle := float64(cell/columns), float64(cell%columns)+0.5
	at := func(angle, row float64) (region.Point, bool) { return u.Photo(angle, row/headRows), true }
	if row >= headRows {
		at = func(angle, row float64) (region.Point, bool) { return u.OnStem(angle, (row-headRows)/rowsPerDiameter) }
	}
	centre, ok = at(angle, row+0.5)
	left, seenLeft := at(angle-0.5+1e-6, row+0.5) // the very edge of a stem is out of sight
	right, seenRight := at(angle+0.5-1e-6, row+0.5)
	below, _ := at(angle, row)
	above, _ := at(angle, row+1)
	across, along := region.Point{X: right.X - left.X, Y: right.Y - left.Y}, region.Point{X: above.X - below.X, Y: above.Y - below.Y}
	return centre, math.Abs(across.X*along.Y - across.Y*along.X), ok && seenLeft && seenRight
}

// classAt returns the class of the pixel under a point when the pixel has the label.
func classAt(p region.Point, ok bool, label uint8, mask, classes *image.Gray) uint8 {
	pixel := image.Pt(int(math.Round(p.X)), int(math.Round(p.Y)))
	if !ok || !pixel.In(mask.Rect) || mask.GrayAt(pixel.X, pixel.Y).Y != label {
		return deposit.NotValve
	}
	return classes.GrayAt(pixel.X, pixel.Y).Y
}
