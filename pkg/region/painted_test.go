package region

import (
	"image"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestMarksReadAsTheyWereWritten(t *testing.T) {
	for name, m := range map[string]*Marks{
		"outline": {Head: Ellipse{310, 240.25, 120, 95, 10}, Stem: &Line{300, 20, 308, 160, 44}},
		"paint":   {Painted: []Stroke{{PaintHeavy, 30, []Point{{10, 20}, {30.5, 40}}}, {PaintAside, 8, []Point{{-3, 4}}}}, By: `Ann "A."`},
		"both":    {Head: Ellipse{310, 240, 120, 95, 0}, Painted: []Stroke{{PaintBare, 12.5, []Point{{1, 2}}}}},
	} {
		text, err := m.Write()
		require.NoError(t, err, name)
		back, err := ParseMarks(text)
		require.NoError(t, err, name)
		assert.Equal(t, m, back, name)
	}
	_, err := (&Marks{}).Write()
	assert.ErrorIs(t, err, ErrMarks)
}

// A stroke covers the pixels whose centres are no further from its line than half its width: a capsule of known area.
func TestAStrokeIsACapsule(t *testing.T) {
	m := Marks{Painted: []Stroke{{PaintHeavy, 40, []Point{{100, 100}, {220, 190}}}}}
	painted := m.paint(image.Rect(0, 0, 320, 320))
	count := 0
	for _, code := range painted.Pix {
		if code == 3 {
			count++
		}
	}
	assert.InDelta(t, 150*40+math.Pi*400, count, 60, "a length of 150, a width of 40: pixels on the rim count or not")
	assert.Equal(t, Unpainted, painted.GrayAt(0, 0).Y)
}

func TestLaterStrokesLieOnEarlierOnes(t *testing.T) {
	m := Marks{Painted: []Stroke{{PaintHeavy, 40, []Point{{50, 50}}}, {PaintAside, 10, []Point{{50, 50}}}}}
	painted := m.paint(image.Rect(0, 0, 100, 100))
	assert.Equal(t, paintedAside, painted.GrayAt(50, 50).Y)
	assert.Equal(t, uint8(3), painted.GrayAt(60, 50).Y)
}

func TestPaintBesideASingleValveAddsToItsHead(t *testing.T) {
	mask := image.NewGray(image.Rect(0, 0, 100, 100))
	for i := range 50 * 100 {
		mask.Pix[i] = Head
	}
	valve := &Region{Mask: mask, HeadPixels: 5000}
	m := Marks{Painted: []Stroke{{PaintFilm, 2, []Point{{10, 80}}}, {PaintAside, 2, []Point{{60, 80}}}}, By: "Ann"}
	m.wear([]*Region{valve})
	assert.Equal(t, Head, valve.Mask.GrayAt(10, 80).Y)
	assert.Equal(t, Background, valve.Mask.GrayAt(60, 80).Y, "what does not count adds nothing")
	assert.Greater(t, valve.HeadPixels, 5000)
	assert.Equal(t, "Ann", valve.PaintedBy)

	two := []*Region{{Mask: image.NewGray(mask.Rect), HeadPixels: 1}, {Mask: image.NewGray(mask.Rect), HeadPixels: 1}}
	m.wear(two)
	assert.Equal(t, Background, two[0].Mask.GrayAt(10, 80).Y, "of two it is not known whose it is")
}

func TestPaintThatCannotBe(t *testing.T) {
	for _, text := range []string{
		"painted: [{paint: red, width: 3, path: [[1, 2]]}]", "painted: [{paint: bare, width: 0, path: [[1, 2]]}]",
		"painted: [{paint: bare, width: 3, path: []}]", "painted: [{paint: bare, width: 3, path: [[1]]}]",
		"painted: [{paint: bare, width: .nan, path: [[1, 2]]}]", "painted: []", "by: Ann",
		"stem: {from: [1, 2], to: [3, 4], width: 5}\npainted: [{paint: bare, width: 3, path: [[1, 2]]}]",
	} {
		_, err := ParseMarks([]byte(text))
		assert.ErrorIs(t, err, ErrMarks, text)
	}
	far := Marks{Painted: []Stroke{{PaintBare, 3, []Point{{5000, 5}}}}}
	assert.ErrorIs(t, far.Check(640, 480), ErrMarks)
}
