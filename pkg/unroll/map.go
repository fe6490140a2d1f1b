// Package unroll rolls the valve in a photo out onto a flat map, on which pose, zoom and roll of the camera drop out.
package unroll

import (
	"fmt"
	"image"
	"math"

	"valvegrade/pkg/deposit"
	"valvegrade/pkg/photo"
	"valvegrade/pkg/region"
)

// The size of a map: one column per degree clockwise from 12, where the stem leans; rows from where the stem stands to
// the rim, then up the stem. As on a clock face seen from the lens, 3 is to the right of a stem that points up.
const (
	Columns         = 360
	HeadRows        = 64
	rowsPerDiameter = 6
	StemRows        = 8 * rowsPerDiameter
	Rows            = HeadRows + StemRows
)

// MostStems is how many stems the head of an engine's valve measures at most.
const MostStems = 6.5

// leastLength is how many times as long as wide a stem must be in view for its width to tell anything: as wide as it is
// measured and as wide as the head lets it be, for what the guide leaves of a stem can be longer across it than along it.
const leastLength = 2.0

// Map is what comparing needs of a photo: the valve rolled out flat, and how it stands in the photo. Cells are counted
// row by row.
type Map struct {
	// Draws are the repetitions of the measurement of the whole valve.
	Draws deposit.Draws
	// Class holds a class of package deposit for each cell, deposit.NotValve where the photo does not show it. It is
	// nil, as Weight and Tone are, when the head has no outline by which it could be rolled out.
	Class []uint8
	// Weight is the share of the photo's readable valve that a cell stands for; 0 where nothing can be read. Sums to 1.
	Weight []float64
	// Tone is the pattern of the head's cells: log luminance without what is smooth; 0 where nothing can be read.
	Tone []float32
	// Oriented is true when a stem says where 12 is.
	Oriented bool
	// Rough is true when too little of the rim is in view for a sure outline.
	Rough bool
	// Proportion is the diameter of the head in diameters of the stem, Foot how far the stem's foot is from the middle
	// of the head, in radii. NaN without a stem; the first also where the stem in view is not leastLength times as long
	// as wide: such a stub may be a sliver of it.
	Proportion, Foot float64

	rim  *region.Ellipse
	stem *region.Line
}

// Of rolls out the valve of a measured photo. The error is a failure of the program.
func Of(p *photo.Photo, r *region.Region, d *deposit.Deposit) (*Map, error) {
	m := &Map{
		Draws: d.Draws, Oriented: r.Axis != nil, Rough: r.Ellipse == nil, Proportion: math.NaN(), Foot: math.NaN(),
		rim: r.Outline(), stem: r.Axis,
	}
	if m.rim == nil {
		return m, nil
	}
	u := region.NewUnwrap(*m.rim, m.stem)
	m.Class = make([]uint8, Rows*Columns)
	for cell := range m.Class {
		centre, ok := Place(u, cell)
		m.Class[cell] = classAt(centre, ok, labelOf(cell), r.Mask, d.Map)
	}
	m.measure()
	var err error
	if m.Tone, err = m.pattern(p.Pixels, u); err != nil {
		return nil, fmt.Errorf("unroll: %s: %w", p.Name, err)
	}
	return m, nil
}

// measure fills in what follows from outline, stem and classes.
func (m *Map) measure() {
	if m.stem != nil {
		foot := region.Point{X: m.stem.X2, Y: m.stem.Y2}
		m.Foot = m.rim.Level(foot)
		if math.Hypot(m.stem.X2-m.stem.X1, m.stem.Y2-m.stem.Y1) >= leastLength*max(m.stem.Width, 2*m.rim.A/MostStems) {
			m.Proportion = 2 * m.rim.A / m.stem.Width
		}
	}
	u, sum := region.NewUnwrap(*m.rim, m.stem), 0.0
	m.Weight = make([]float64, len(m.Class))
	for cell := range m.Class {
		if m.Readable(cell) {
			m.Weight[cell] = area(u, cell)
			sum += m.Weight[cell]
		}
	}
	for cell := range m.Weight {
		m.Weight[cell] /= max(sum, math.SmallestNonzeroFloat64)
	}
}

// Readable reports whether the photo tells what lies on the cell.
func (m *Map) Readable(cell int) bool { return m.Class[cell] <= deposit.Heavy }

func labelOf(cell int) uint8 {
	if cell < HeadRows*Columns {
		return region.Head
	}
	return region.Stem
}

// Place returns the pixel of a cell's centre. ok is false where the valve turns its back.
func Place(u region.Unwrap, cell int) (centre region.Point, ok bool) {
	return at(u, labelOf(cell), float64(cell%Columns)+0.5, float64(cell/Columns)+0.5)
}

// area returns how many pixels a cell covers.
func area(u region.Unwrap, cell int) float64 {
	part, row, angle := labelOf(cell), float64(cell/Columns), float64(cell%Columns)+0.5
	left, _ := at(u, part, angle-0.5+1e-6, row+0.5) // the very edge of a stem is out of sight
	right, _ := at(u, part, angle+0.5-1e-6, row+0.5)
	below, _ := at(u, part, angle, row)
	above, _ := at(u, part, angle, row+1)
	across := region.Point{X: right.X - left.X, Y: right.Y - left.Y}
	along := region.Point{X: above.X - below.X, Y: above.Y - below.Y}
	return math.Abs(across.X*along.Y - across.Y*along.X)
}

// at returns the pixel of a place on head or stem, its angle in degrees and its row on the map.
func at(u region.Unwrap, part uint8, angle, row float64) (region.Point, bool) {
	if part == region.Stem {
		return u.OnStem(angle, (row-HeadRows)/rowsPerDiameter)
	}
	return u.Photo(angle, row/HeadRows), true
}

// classAt returns the class of the pixel under a point when the pixel has the label.
func classAt(p region.Point, ok bool, label uint8, mask, classes *image.Gray) uint8 {
	pixel := image.Pt(int(math.Round(p.X)), int(math.Round(p.Y)))
	if !ok || !pixel.In(mask.Rect) || mask.GrayAt(pixel.X, pixel.Y).Y != label {
		return deposit.NotValve
	}
	return classes.GrayAt(pixel.X, pixel.Y).Y
}
