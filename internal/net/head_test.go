package net

import (
	"image"
	"image/color"
	"image/draw"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A stem from above onto a head, as painted.py has them; the box holds both.
func longPainted() (*image.NRGBA, image.Rectangle, Box) {
	img := canvas(900, 900, blue)
	head := image.Rect(401, 551, 501, 601)
	draw.Draw(img, image.Rect(441, 150, 461, 551), image.NewUniform(color.NRGBA{G: 255, A: 255}), image.Point{}, draw.Src)
	draw.Draw(img, head, image.NewUniform(color.NRGBA{R: 255, A: 255}), image.Point{}, draw.Src)
	return img, head, Box{401, 150, 501, 601}
}

func TestLongValves(t *testing.T) {
	assert.True(t, Box{0, 0, 151, 100}.long())
	assert.True(t, Box{10, 10, 110, 161}.long(), "upright")
	assert.False(t, Box{0, 0, 149, 100}.long())
	assert.False(t, Box{}.long())
}

func TestALongValvesHeadIsReadCloser(t *testing.T) {
	n := painted(t, "one.onnx")
	img, head, box := longPainted()
	once, err := n.look(img, box, false)
	require.NoError(t, err)
	both, err := n.Read(img, box)
	require.NoError(t, err)

	around, seen := both.head()
	require.True(t, seen)
	assert.InDelta(t, 451, (around.Left+around.Right)/2, 2, "the middle of the head, to half a cell")
	assert.InDelta(t, 576, (around.Top+around.Bottom)/2, 2)
	assert.InDelta(t, around.Right-around.Left, around.Bottom-around.Top, 1e-9, "as high as wide")

	// Painted red is 1 in the first map of the deposit. A cell of the whole valve's window is 5 pixels, and what the head's edge cuts
	// is some of both; the head's own window, of cells of less than a pixel, knows better.
	assert.Greater(t, partly(once.Deposit[0]), partly(both.Deposit[0]))
	x, y := centroid(both, both.Deposit[0])
	assert.InDelta(t, float64(head.Min.X+head.Max.X-1)/2, x+both.Left, 1)
	assert.InDelta(t, float64(head.Min.Y+head.Max.Y-1)/2, y+both.Top, 1)
	stem := 0
	for i, green := range both.Deposit[1] { // above the head's window, by far
		if both.Top+float64(i/both.Cols)*both.CellHeight < 400 {
			assert.Equal(t, once.Deposit[1][i], green)
			stem += int(green)
		}
	}
	assert.Positive(t, stem)
}

// partly counts values that are neither 0 nor 1, give or take an eighth.
func partly(values []float32) int {
	n := 0
	for _, v := range values {
		if v > 0.125 && v < 0.875 {
			n++
		}
	}
	return n
}

func TestALongBoxWithoutAHeadIsReadAsAnyOther(t *testing.T) {
	n := painted(t, "one.onnx")
	img := canvas(900, 900, blue)
	box := Box{401, 150, 501, 601}
	out, err := n.Read(img, box)
	require.NoError(t, err)
	_, seen := out.head()
	assert.False(t, seen)
	want, err := n.look(img, box, true)
	require.NoError(t, err)
	first, err := n.look(img, box, false)
	require.NoError(t, err)
	want.takeMean(first)
	assert.Equal(t, want, out, "the same window twice")
}

func TestTheHeadsWindowCountsWhereItReaches(t *testing.T) {
	grid := func(cols, rows int, left, top, cell float64, value float32) *Output {
		o := &Output{Cols: cols, Rows: rows, Left: left, Top: top, CellWidth: cell, CellHeight: cell}
		for k := range o.Region {
			o.Region[k], o.Deposit[k] = make([]float32, cols*rows), make([]float32, cols*rows)
			for i := range o.Region[k] {
				o.Region[k][i], o.Deposit[k][i] = value, -value
			}
		}
		return o
	}
	whole, head := grid(6, 6, 100, 50, 10, 1), grid(16, 16, 110, 60, 2.5, 6) // the head's reaches cells 1 to 4 of rows 1 to 4
	whole.Frame = Frame{Judgeable: 0.9, Overlap: 0.8, Index: 0.2}
	head.Frame = Frame{Judgeable: 0.1, Overlap: 0.7, Index: 0.7, IndexError: 0.1, DarkDeposit: 0.6, DarkError: 0.2, Grades: [5]float64{3: 1}}
	whole.takeHead(head)
	// The middle of an outer cell is an eighth of the window from its edge: three quarters of the way to where all of it counts.
	want := []float32{
		-1, -1, -1, -1, -1, -1,
		-1, -3.8125, -4.75, -4.75, -3.8125, -1,
		-1, -4.75, -6, -6, -4.75, -1,
		-1, -4.75, -6, -6, -4.75, -1,
		-1, -3.8125, -4.75, -4.75, -3.8125, -1,
		-1, -1, -1, -1, -1, -1,
	}
	for k := range whole.Deposit {
		assert.InDeltaSlice(t, want, whole.Deposit[k], 1e-6)
	}
	for k := range whole.Region { // from 1 half as far to 6 as the deposit is from -1 to -6
		for i, outline := range whole.Region[k] {
			assert.InDelta(t, 0.5*(1-want[i]), outline, 1e-6)
		}
	}
	assert.Equal(t, Frame{
		Judgeable: 0.9, Overlap: 0.8, Index: 0.7, IndexError: 0.1, DarkDeposit: 0.6, DarkError: 0.2, Grades: [5]float64{3: 1},
	}, whole.Frame)
}
