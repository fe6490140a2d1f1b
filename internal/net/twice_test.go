package net

import (
	"image"
	"image/color"
	"image/draw"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// What is read upside down lies where it is read upright.
func TestALookUpsideDownIsPutUpright(t *testing.T) {
	n := painted(t, "one.onnx")
	img := canvas(640, 480, blue)
	draw.Draw(img, image.Rect(200, 150, 280, 210), image.NewUniform(color.NRGBA{R: 255, A: 255}), image.Point{}, draw.Src)
	box := Box{150, 100, 400, 300}
	upright, err := n.look(img, box, false)
	require.NoError(t, err)
	over, err := n.look(img, box, true)
	require.NoError(t, err)
	assert.LessOrEqual(t, worst(upright.Region[1], over.Region[1]), 1e-3)
	x, y := centroid(over, over.Region[1])
	assert.InDelta(t, 239.5, over.Left+x, 1)
	assert.InDelta(t, 179.5, over.Top+y, 1)
}

// A port has no up: a photo read upside down says the same as the photo that is upside down, each where it belongs.
func TestReadUpsideDownAsThePhotoThatIs(t *testing.T) {
	n, err := New()
	require.NoError(t, err)
	defer n.Close()
	img := goldenPhoto(t)
	over := image.NewNRGBA(img.Rect)
	for y := range img.Rect.Dy() {
		for x := range img.Rect.Dx() {
			over.Set(x, img.Rect.Dy()-1-y, img.At(x, y))
		}
	}
	require.NotEqual(t, img.Pix, over.Pix)
	width, height := float64(img.Rect.Dx()), float64(img.Rect.Dy())
	box := Box{width * 0.1, height * 0.1, width * 0.9, height * 0.9}
	upright, err := n.look(img, box, true)
	require.NoError(t, err)
	turned, err := n.look(over, box, false)
	require.NoError(t, err)
	for i := range 3 {
		turnOver(turned.Region[i], turned.Cols, turned.Rows)
		turnOver(turned.Deposit[i], turned.Cols, turned.Rows)
		assert.LessOrEqual(t, worst(upright.Region[i], turned.Region[i]), 1e-3)
		assert.LessOrEqual(t, worst(upright.Deposit[i], turned.Deposit[i]), 1e-3)
	}
	assert.InDelta(t, upright.Frame.Index, turned.Frame.Index, 1e-4)
	assert.InDelta(t, upright.Frame.Judgeable, turned.Frame.Judgeable, 1e-4)
}

// The finder's box may be off: the second reading is through a window round what the first one outlined.
func TestTheSecondReadingIsRoundWhatTheFirstOutlined(t *testing.T) {
	n := painted(t, "one.onnx")
	img := canvas(640, 480, blue)
	head := image.Rect(200, 150, 280, 210)
	draw.Draw(img, head, image.NewUniform(color.NRGBA{R: 255, A: 255}), image.Point{}, draw.Src)
	out, err := n.Read(img, Box{150, 100, 350, 260})
	require.NoError(t, err)
	round, err := placeWindow(640, 480, Box{200, 150, 280, 210})
	require.NoError(t, err)
	assert.InDelta(t, float64(round.part.Min.X), out.Left, 2, "to half a cell of the first window on either side")
	assert.InDelta(t, float64(round.part.Min.Y), out.Top, 2)
}

// Each of two answers counts by the overlap that it expects, where both reach.
func TestTheMeanOfTwoAnswers(t *testing.T) {
	answer := func(cols int, left float64, value, overlap float32) *Output {
		o := &Output{Cols: cols, Rows: 1, Left: left, CellWidth: 1, CellHeight: 1, frame: make([]float32, readerFrame)}
		for k := range o.Region {
			o.Region[k], o.Deposit[k] = slices.Repeat([]float32{value}, cols), slices.Repeat([]float32{-value}, cols)
		}
		o.frame[5], o.frame[7] = value, overlap
		o.Frame = readFrame(o.frame)
		return o
	}
	before, now := answer(2, 1, 4, 0), answer(4, 0, 2, 0)
	now.takeMean(before)
	assert.Equal(t, []float32{2, 3, 3, 2}, now.Region[1])
	assert.Equal(t, []float32{-2, -3, -3, -2}, now.Deposit[2])
	assert.InDelta(t, sigmoid(3), now.Frame.Index, 1e-9)

	sure := answer(4, 0, 2, 1)
	sure.takeMean(answer(4, 0, 4, -1000))
	assert.Equal(t, []float32{2, 2, 2, 2}, sure.Region[0], "one that sees no valve says nothing")
}

func TestTurnedOverPlanes(t *testing.T) {
	planes := []float32{1, 2, 3, 4, 5, 6, 10, 20, 30, 40, 50, 60}
	turnOver(planes, 2, 3)
	assert.Equal(t, []float32{5, 6, 3, 4, 1, 2, 50, 60, 30, 40, 10, 20}, planes)
	turnOver(planes, 6, 1)
	assert.Equal(t, []float32{5, 6, 3, 4, 1, 2, 50, 60, 30, 40, 10, 20}, planes, "one row has no other end")
}

// A net may be so sure of seeing nothing that its sigmoid is 0: the mean must stay a number.
func TestSharesOfTwoAnswers(t *testing.T) {
	assert.InDelta(t, 0.25, shareOfSecond(0.9, 0.3), 1e-6)
	assert.Zero(t, shareOfSecond(0.9, 0))
	assert.InDelta(t, 0.5, shareOfSecond(sigmoid(-1000), sigmoid(-1000)), 1e-6)
}
