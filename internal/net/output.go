package net

import "math"

// Output is what the net says about one photo.
type Output struct {
	// Cols and Rows are the size of the grid; it covers exactly the upright photo. CellWidth and CellHeight are the size
	// of a cell in photo pixels: cell (c, r) is centred at photo pixel ((c+0.5)*CellWidth-0.5, (r+0.5)*CellHeight-0.5).
	Cols, Rows            int
	CellWidth, CellHeight float64
	// Region holds logits of background, head and stem; Deposit ordinal logits: at least film, at least medium, heavy.
	// Each has Cols*Rows values, row by row.
	Region, Deposit [3][]float32
	Frame           Frame
}

// Frame is what the net says about the photo as a whole; all values are within 0 to 1.
type Frame struct {
	// Judgeable, Dark, Bright, Blurred and Moving are probabilities.
	Judgeable, Dark, Bright, Blurred, Moving float64
	// Index is the deposit index / 100, IndexError its expected absolute error / 100.
	Index, IndexError float64
	// Overlap is the expected intersection over union of the head's mask with the truth.
	Overlap float64
}

// readFrame turns the net's eight raw values into a Frame.
func readFrame(raw []float32) Frame {
	return Frame{
		Judgeable: sigmoid(raw[0]), Dark: sigmoid(raw[1]), Bright: sigmoid(raw[2]),
		Blurred: sigmoid(raw[3]), Moving: sigmoid(raw[4]),
		Index:      sigmoid(raw[5]),
		IndexError: math.Min(1, math.Exp(float64(raw[6]))), // the net gives its natural logarithm
		Overlap:    sigmoid(raw[7]),
	}
}

func sigmoid(logit float32) float64 { return 1 / (1 + math.Exp(-float64(logit))) }

// readMaps turns the raw maps, six planes of the whole frame, into the photo's part of them.
func readMaps(raw []float32, p placement) *Output {
	g := crop(p)
	out := &Output{
		Cols: g.cols, Rows: g.rows,
		CellWidth:  float64(p.photoWidth) / float64(g.cols),
		CellHeight: float64(p.photoHeight) / float64(g.rows),
	}
	const plane = mapCols * mapRows
	for i := range 3 {
		out.Region[i] = g.take(raw[i*plane : (i+1)*plane])
		out.Deposit[i] = g.take(raw[(3+i)*plane : (4+i)*plane])
	}
	return out
}
