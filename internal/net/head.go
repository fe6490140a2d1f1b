package net

import "image"

// A valve with much of its stem in view leaves its head, which carries most of its deposit, few pixels of the window. So a long
// valve is looked at once more in a window round its head, instead of upside down (twice.go): every valve takes the same time.
const (
	// longValve is how many times as long as wide the box of a valve is from which on it is long.
	longValve = 1.5
	// fading is the part of the head's window, from each of its edges on, over which its answer passes into that of the whole.
	fading = 1.0 / 6
	// outlineShare is how much the head's window counts where head and stem lie: it cuts the stem, and knows less of that.
	outlineShare = 0.5
	// fewestCells is the area of the smallest head, and of the smallest valve, that is worth a window of its own.
	fewestCells = 60
)

// long says whether the box is that of a long valve, upright or lying.
func (b Box) long() bool {
	wide, high := b.Right-b.Left, b.Bottom-b.Top
	return max(wide, high) > longValve*min(wide, high)
}

// head is a box around the cells that are head rather than stem or background, as high as wide; false where there are few.
func (o *Output) head() (Box, bool) {
	box, enough := o.around(func(background, head, stem float32) bool { return head > background && head > stem })
	x, y := (box.Left+box.Right)/2, (box.Top+box.Bottom)/2
	half := max(box.Right-box.Left, box.Bottom-box.Top) / 2
	return Box{x - half, y - half, x + half, y + half}, enough
}

// outlined is a box around the cells that are head or stem rather than background; false where there are few.
func (o *Output) outlined() (Box, bool) {
	return o.around(func(background, head, stem float32) bool { return head > background || stem > background })
}

// around is the smallest box around the cells that belong, by their logits; false where there are few.
func (o *Output) around(belongs func(background, head, stem float32) bool) (box Box, enough bool) {
	var bounds image.Rectangle
	cells := 0
	for i, background := range o.Region[0] {
		if belongs(background, o.Region[1][i], o.Region[2][i]) {
			x, y := i%o.Cols, i/o.Cols
			bounds = bounds.Union(image.Rect(x, y, x+1, y+1))
			cells++
		}
	}
	return Box{
		o.Left + float64(bounds.Min.X)*o.CellWidth, o.Top + float64(bounds.Min.Y)*o.CellHeight,
		o.Left + float64(bounds.Max.X)*o.CellWidth, o.Top + float64(bounds.Max.Y)*o.CellHeight,
	}, cells >= fewestCells
}

// takeHead puts what the answer of the head's window says about the deposit in the place of what this one says, and makes the
// outline that of both; the maps as far as that window reaches, less and less towards its edges.
func (o *Output) takeHead(other *Output) {
	rows := alongside(o.Rows, o.Top, o.CellHeight, other.Rows, other.Top, other.CellHeight, fading)
	columns := alongside(o.Cols, o.Left, o.CellWidth, other.Cols, other.Left, other.CellWidth, fading)
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
