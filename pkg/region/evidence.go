package region

import (
	"image"
	"math"
)

// Evidence is what the net sees of one valve, on its working grid of Cols x Rows cells over a window round it.
//
// The grid begins at photo pixel (Left, Top), whole numbers. A cell (c, r) is centred at photo pixel (Left +
// (c+0.5)*CellWidth - 0.5, Top + (r+0.5)*CellHeight - 0.5), in pixel-centre coordinates; what of the window lies beyond
// the photo is cropped away.
type Evidence struct {
	Cols, Rows            int
	Left, Top             float64
	CellWidth, CellHeight float64
	// Region holds logits for background, head and stem, each of length Cols*Rows, row by row.
	Region [3][]float32
	// Deposit holds ordinal logits: that the deposit class is at least film, at least medium, heavy. Length Cols*Rows
	// each.
	Deposit [3][]float32
	// Frame holds the net's readings of the photo as a whole.
	Frame Frame
}

// Frame is what the net says about the valve as a whole. All values are within 0 to 1.
type Frame struct {
	// Judgeable, Dark, Bright, Blurred and Moving are probabilities.
	Judgeable, Dark, Bright, Blurred, Moving float64
	// Index is a direct estimate of the deposit index / 100, IndexError the absolute error / 100 to expect of the maps.
	Index, IndexError float64
	// Overlap is the expected intersection over union of the head in the proposed mask with the truth.
	Overlap float64
	// Dark deposit / 100, and the absolute error / 100 to expect of the maps.
	DarkDeposit, DarkError float64
	// Grades are the probabilities of the grades 0 to 4; they sum to 1.
	Grades [5]float64
}

// Window returns the part of the photo that the grid covers.
func (e *Evidence) Window() image.Rectangle {
	left, top := int(e.Left), int(e.Top)
	width, height := math.Round(float64(e.Cols)*e.CellWidth), math.Round(float64(e.Rows)*e.CellHeight)
	return image.Rect(left, top, left+int(width), top+int(height))
}
