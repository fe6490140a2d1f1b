package region

// Evidence is the net's own view of the photo, on its working grid of Cols x Rows cells.
//
// A cell (c, r) is centred at photo pixel ((c+0.5)*CellWidth - 0.5, (r+0.5)*CellHeight - 0.5), in pixel-centre coordinates;
// cells that would lie in the letterbox margin are already cropped away, so the grid covers exactly the photo.
type Evidence struct {
	Cols, Rows            int
	CellWidth, CellHeight float64
	// Region holds logits for background, head and stem, each of length Cols*Rows, row by row.
	Region [3][]float32
	// Deposit holds ordinal logits: that the deposit class is at least film, at least medium, heavy. Length Cols*Rows each.
	Deposit [3][]float32
	// Frame holds the net's readings of the photo as a whole.
	Frame Frame
}

// Frame is what the net says about the photo as a whole. All values are within 0 to 1.
type Frame struct {
	// Judgeable, Dark, Bright, Blurred and Moving are probabilities.
	Judgeable, Dark, Bright, Blurred, Moving float64
	// Index is a direct estimate of the deposit index / 100, IndexError its expected absolute error / 100.
	Index, IndexError float64
	// Overlap is the expected intersection over union of the head in the proposed mask with the truth.
	Overlap float64
}
