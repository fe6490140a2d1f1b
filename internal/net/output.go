package net

import (
	"math"
	"slices"
)

// The second look gives six maps and these many values about the valve as a whole.
const readerMaps, readerFrame = 6, 15

// Output is what the second look says about one valve.
type Output struct {
	// Cols and Rows are the size of the grid; it covers exactly the part of the upright photo that the window shows,
	// from pixel (Left, Top) on. CellWidth and CellHeight are the size of a cell in photo pixels: cell (c, r) is
	// centred at photo pixel (Left+(c+0.5)*CellWidth-0.5, Top+(r+0.5)*CellHeight-0.5).
	Cols, Rows            int
	Left, Top             float64
	CellWidth, CellHeight float64
	// Region holds logits of background, head and stem; Deposit ordinal logits: at least film, at least medium, heavy.
	// Each has Cols*Rows values, row by row.
	Region, Deposit [3][]float32
	Frame           Frame
	frame           []float32 // the values that Frame was read from
}

// Frame is what the second look says about the valve as a whole; all values are within 0 to 1.
type Frame struct {
	// Judgeable, Dark, Bright, Blurred and Moving are probabilities.
	Judgeable, Dark, Bright, Blurred, Moving float64
	// Index is the deposit index / 100, IndexError its expected absolute error / 100.
	Index, IndexError float64
	// Overlap is the expected intersection over union of the head's mask with the truth.
	Overlap float64
	// DarkDeposit is the dark deposit / 100, DarkError its expected absolute error / 100.
	DarkDeposit, DarkError float64
	// Grades are the probabilities of the grades 0 to 4; they sum to 1.
	Grades [5]float64
}

// readFrame turns the raw values into a Frame.
func readFrame(raw []float32) Frame {
	return Frame{
		Judgeable: sigmoid(raw[0]), Dark: sigmoid(raw[1]), Bright: sigmoid(raw[2]),
		Blurred: sigmoid(raw[3]), Moving: sigmoid(raw[4]),
		Index:       sigmoid(raw[5]),
		IndexError:  math.Min(1, math.Exp(float64(raw[6]))), // the net gives its natural logarithm
		Overlap:     sigmoid(raw[7]),
		DarkDeposit: sigmoid(raw[8]),
		DarkError:   math.Min(1, math.Exp(float64(raw[9]))),
		Grades:      softmax([5]float32(raw[10:15])),
	}
}

// softmax turns logits into probabilities.
func softmax(logits [5]float32) (p [5]float64) {
	highest, sum := slices.Max(logits[:]), 0.0
	for i, logit := range logits {
		p[i] = math.Exp(float64(logit - highest))
		sum += p[i]
	}
	for i := range p {
		p[i] /= sum
	}
	return p
}

func sigmoid(logit float32) float64 { return 1 / (1 + math.Exp(-float64(logit))) }

// readMaps turns the raw maps, six planes of the whole frame, into the part of them that shows the photo.
func readMaps(raw []float32, p placement) *Output {
	g := crop(p)
	out := &Output{
		Cols: g.cols, Rows: g.rows,
		Left: float64(p.part.Min.X), Top: float64(p.part.Min.Y),
		CellWidth:  float64(p.part.Dx()) / float64(g.cols),
		CellHeight: float64(p.part.Dy()) / float64(g.rows),
	}
	const plane = mapCols * mapRows
	for i := range 3 {
		out.Region[i] = g.take(raw[i*plane : (i+1)*plane])
		out.Deposit[i] = g.take(raw[(3+i)*plane : (4+i)*plane])
	}
	return out
}
