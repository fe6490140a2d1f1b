package net

import (
	"image"

	"valvegrade/internal/raster"
)

// A valve with much of its stem in view leaves its head, which carries most of its deposit, few pixels of the window. So a long
// valve is looked at once more in a window round its head, instead of upside down: every valve takes the same time.
const (
	// longValve is how many times as long as wide the box of a valve is from which on it is long.
	longValve = 1.5
	// fading is the part of the head's window, from each of its edges on, over which its answer passes into that of the whole.
	fading = 1.0 / 6
	// outlineShare is how much the head's window counts where head and stem lie: it cuts the stem, and knows less of that.
	outlineShare = 0.5
	// fewestHeadCells is the area of the smallest head that is worth a window of its own.
	fewestHeadCells = 60
)

// long says whether the box is that of a long valve, upright or lying.
func (b Box) long() bool {
	wide, high := b.Right-b.Left, b.Bottom-b.Top
	return max(wide, high) > longValve*min(wide, high)
}

// readLong looks at a long valve once, and then at its head; at one whose head is not to be seen as at any other.
func (e *Eyes) readLong(img *image.NRGBA, around Box) (*Output, error) {
	whole, err := e.look(img, around, e.models[reader].forward)
	if err != nil {
		return nil, err
	}
	head, seen := whole.head()
	if !seen {
		return e.look(img, around, e.readBothWays)
	}
	closer, err := e.look(img, head, e.models[reader].forward)
	if err != nil {
		return nil, err
	}
	whole.takeHead(closer)
	return whole, nil
}

// head is a box around the cells that are head rather than stem or background, as high as wide; false where there are few.
func (o *Output) head() (Box, bool) {
	var bounds image.Rectangle
	cells := 0
	for i, head := range o.Region[1] {
		if head <= o.Region[0][i] || head <= o.Region[2][i] {
			continue
		}
		x, y := i%o.Cols, i/o.Cols
		bounds = bounds.Union(image.Rect(x, y, x+1, y+1))
		cells++
	}
	wide, high := float64(bounds.Dx())*o.CellWidth, float64(bounds.Dy())*o.CellHeight
	x := o.Left + float64(bounds.Min.X)*o.CellWidth + wide/2
	y := o.Top + float64(bounds.Min.Y)*o.CellHeight + high/2
	half := max(wide, high) / 2
	return Box{x - half, y - half, x + half, y + half}, cells >= fewestHeadCells
}

// takeHead puts what the answer of the head's window says about the deposit in the place of what this one says, and makes the
// outline that of both; the maps as far as that window reaches, less and less towards its edges.
func (o *Output) takeHead(other *Output) {
	rows := alongside(o.Rows, o.Top, o.CellHeight, other.Rows, other.Top, other.CellHeight)
	columns := alongside(o.Cols, o.Left, o.CellWidth, other.Cols, other.Left, other.CellWidth)
	for k := range o.Deposit {
		takeMap(o.Deposit[k], o.Cols, other.Deposit[k], other.Cols, rows, columns, 1)
	}
	for k := range o.Region {
		takeMap(o.Region[k], o.Cols, other.Region[k], other.Cols, rows, columns, outlineShare)
	}
	o.Frame.Index, o.Frame.IndexError = other.Frame.Index, other.Frame.IndexError
	o.Frame.DarkDeposit, o.Frame.DarkError = other.Frame.DarkDeposit, other.Frame.DarkError
	o.Frame.Grades = other.Frame.Grades
}

// beside is a cell of one axis, how much the cells of another count there, and where its middle lies among them.
type beside struct {
	cell  int
	worth float32
	raster.Between
}

// alongside returns which of an axis' cells, of a size in pixels from a first pixel on, have their middle on another axis.
func alongside(cells int, first, size float64, otherCells int, otherFirst, otherSize float64) []beside {
	var places []beside
	for i := range cells {
		at := (first + (float64(i)+0.5)*size - otherFirst) / otherSize
		if at >= 0 && at <= float64(otherCells) {
			inwards := min(at, float64(otherCells)-at) / float64(otherCells)
			places = append(places, beside{i, float32(min(inwards/fading, 1)), raster.At(at-0.5, 0, otherCells-1)})
		}
	}
	return places
}

// takeMap moves the cells of a map, by a share of the way at most, to those of another one; each has rows of this many columns.
func takeMap(values []float32, cols int, others []float32, otherCols int, rows, columns []beside, share float32) {
	for _, row := range rows {
		upper, lower := others[row.First*otherCols:][:otherCols], others[row.Second*otherCols:][:otherCols]
		for _, column := range columns {
			above, below := column.Of(upper), column.Of(lower)
			value := &values[row.cell*cols+column.cell]
			*value += share * row.worth * column.worth * (above + row.Share*(below-above) - *value)
		}
	}
}
