package region

import (
	"image"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"valvegrade/pkg/reason"
)

func TestMarksReadAsTheyWereWritten(t *testing.T) {
	for name, m := range map[string]*Marks{
		"outline": {Head: Ellipse{310, 240.25, 120, 95, 10}, Stem: &Line{300, 20, 308, 160, 44}},
		"paint":   {Painted: []Stroke{{PaintHeavy, 30, []Point{{10, 20}, {30.5, 40}}}, {PaintAside, 8, []Point{{-3, 4}}}}, By: `Ann "A."`},
		"afar":    {Head: Ellipse{-3e17, 240, 3e17, 95, 0}},
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
	assert.Equal(t, "[0, -0.01]", inBrackets(-0.004, -0.005))
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

// The pixels of a stroke by their definition, one by one.
func TestAStrokeVisitsItsPixelsOnce(t *testing.T) {
	size := image.Rect(0, 0, 60, 50)
	random := rand.New(rand.NewPCG(1, 1))
	strokes := []Stroke{
		{PaintBare, 10, []Point{{30, 25}}},                          // whole numbers: many centres lie on the outline
		{PaintBare, 10, []Point{{10, 10}, {40, 10}, {40, 30}}},      // level and upright
		{PaintBare, 10, []Point{{10, 10}, {34, 28}, {10, 10}}},      // there and back, 3:4
		{PaintBare, 6, []Point{{5, 5}, {50, 5}, {50, 20}, {5, 20}}}, // with a gap between
		{PaintBare, 1, []Point{{1.5, 1.5}}},                         // between centres
		{PaintBare, 20, []Point{{-5, -5}, {70, -3}, {70, 60}}},      // partly outside
		{PaintBare, 4, []Point{{-20, 10}, {-30, 200}}},              // outside
	}
	for range 200 {
		s := Stroke{Paint: PaintBare, Width: 0.1 + 20*random.Float64()}
		for range 1 + random.IntN(6) {
			s.Path = append(s.Path, Point{80*random.Float64() - 10, 70*random.Float64() - 10})
		}
		strokes = append(strokes, s)
	}
	for _, s := range strokes {
		visited := image.NewGray(size)
		s.eachRun(size, func(y, from, to int) {
			for x := from; x < to; x++ {
				visited.Pix[y*visited.Stride+x]++
			}
		})
		for y := range size.Dy() {
			for x := range size.Dx() {
				nearest := math.Inf(1)
				for n, p := range s.Path {
					nearest = min(nearest, toSegment(Point{float64(x), float64(y)}, s.Path[max(0, n-1)], p))
				}
				want := uint8(0)
				if nearest <= s.Width/2+1e-9 { // rounding must not decide
					want = 1
				}
				require.Equal(t, want, visited.GrayAt(x, y).Y, "(%d, %d) of %v", x, y, s)
			}
		}
	}
}

func TestLaterStrokesLieOnEarlierOnes(t *testing.T) {
	m := Marks{Painted: []Stroke{{PaintHeavy, 40, []Point{{50, 50}}}, {PaintAside, 10, []Point{{50, 50}}}}}
	painted := m.paint(image.Rect(0, 0, 100, 100))
	assert.Equal(t, paintedAside, painted.GrayAt(50, 50).Y)
	assert.Equal(t, uint8(3), painted.GrayAt(60, 50).Y)
}

// Two pieces of valve that the net saw: the smaller one was tidied away, as something in front of the valve cuts it off.
func TestPaintBringsBackWhatTheNetSawAndNothingElse(t *testing.T) {
	e := grid(
		"..........", ".hhhhhh...", ".hhhhhh...", ".hhhhhh...", ".hhhhhh...", "..........", ".......hh.", ".......hh.", "..........",
	)
	size := image.Rect(0, 0, 100, 90)
	seen := propose(e).enlarge(size)
	mask := image.NewGray(size)
	copy(mask.Pix[:55*100], seen.Pix) // the lower piece is taken off
	valve := &Region{Mask: mask, Source: Auto, Evidence: e}
	valve.count()
	outside := Stroke{PaintHeavy, 10, []Point{{20, 75}}}
	m := Marks{Painted: []Stroke{{PaintFilm, 8, []Point{{80, 70}}}, {PaintHeavy, 30, []Point{{10, 30}}}, outside}, By: "Ann"}
	before := valve.HeadPixels

	m.wear([]*Region{valve})
	assert.Equal(t, Head, mask.GrayAt(80, 70).Y, "the net saw valve here")
	assert.Equal(t, Background, mask.GrayAt(84, 65).Y, "and here, but nobody painted it")
	assert.Equal(t, Background, mask.GrayAt(2, 30).Y, "a broad stroke over the rim leaves the rim where it is")
	assert.Equal(t, Background, mask.GrayAt(20, 75).Y, "paint on the wall of the port is no valve")
	assert.InDelta(t, before+50, valve.HeadPixels, 8, "a disc of 8 pixels")
	assert.Equal(t, "Ann", valve.PaintedBy)
	require.Len(t, valve.Reasons, 1)
	assert.Equal(t, reason.PaintBeside, valve.Reasons[0].Code)
	assert.Contains(t, valve.Reasons[0].Advice, "stroke 3 of 3 ")

	hand := &Region{Mask: image.NewGray(size), Source: ByHand, Evidence: e}
	copy(hand.Mask.Pix[:55*100], seen.Pix)
	hand.count()
	m.wear([]*Region{hand})
	assert.Equal(t, before, hand.HeadPixels, "an outline by hand is taken at its word")
	assert.Contains(t, hand.Reasons[0].Advice, "2 of 3 strokes ")

	two := []*Region{{Mask: image.NewGray(size), HeadPixels: 1, Evidence: e}, {Mask: image.NewGray(size), HeadPixels: 1, Evidence: e}}
	m.wear(two)
	assert.Equal(t, Background, two[0].Mask.GrayAt(80, 70).Y, "of two it is not known whose it is")
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
	assert.ErrorContains(t, far.Check(640, 480), "stroke 1 does not fit a photo of 640x480 pixels", "as the file's reader calls it")
}

// As much paint as may stand in one file fits into it, in the largest photo, too; more is named as what it is.
func TestAllThePaintThatAFileTakes(t *testing.T) {
	long := func(points int) Stroke {
		s := Stroke{Paint: PaintMedium, Width: 1234.56}
		for n := range points {
			s.Path = append(s.Path, Point{16383.25, 16000.25 - float64(n)})
		}
		return s
	}
	m := Marks{By: "Ann"}
	for range mostPainted / mostPoints {
		m.Painted = append(m.Painted, long(mostPoints))
	}
	text, err := m.Write()
	require.NoError(t, err)
	back, err := ParseMarks(text)
	require.NoError(t, err)
	assert.Equal(t, &m, back)

	m.Painted = append(m.Painted, long(1))
	_, err = m.Write()
	require.ErrorIs(t, err, ErrMarks)
	assert.ErrorContains(t, err, "the strokes of painted have 10001 points, more than 10000")
}
