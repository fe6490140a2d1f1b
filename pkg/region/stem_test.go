package region

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func assertLine(t *testing.T, want, got Line, across, ends float64, name string) {
	t.Helper()
	for _, end := range [][2]Point{{{want.X1, want.Y1}, {got.X1, got.Y1}}, {{want.X2, want.Y2}, {got.X2, got.Y2}}} {
		off := end[1].minus(end[0])
		along := Point{want.X2 - want.X1, want.Y2 - want.Y1}
		along = along.times(1 / along.length())
		assert.LessOrEqual(t, off.cross(along)*off.cross(along), across*across, "%s: off the centre line", name)
		assert.InDelta(t, 0, off.dot(along), ends, "%s: end along the line", name)
	}
	assert.InDelta(t, want.Width, got.Width, 0.03*want.Width+0.5, "%s: width, half a pixel and 3 %%", name)
}

func TestMeasureStem(t *testing.T) {
	head := Ellipse{200, 240, 120, 60, 0}
	for name, stem := range map[string]Line{
		"upright": {200, 20, 200, 200, 30}, "leaning": {120, 30, 190, 200, 34}, "thin": {230, 10, 205, 200, 9},
		"from the side": {10, 190, 150, 225, 26},
	} {
		mask := (&Marks{Head: head, Stem: &stem}).draw(400, 320)
		got := measureStem(mask, takeCensus(mask))
		require.NotNil(t, got, name)
		assertLine(t, stem, *got, 0.7, 4, name)
	}
}

func TestStubPointsAtTheHead(t *testing.T) {
	stem := Line{200, 170, 200, 200, 40} // wider than long: its own longest extent is across
	mask := (&Marks{Head: Ellipse{200, 240, 120, 60, 0}, Stem: &stem}).draw(400, 320)
	got := measureStem(mask, takeCensus(mask))
	require.NotNil(t, got)
	assertLine(t, stem, *got, 0.7, 4, "stub")
}

func TestCrescentPointsAtTheHead(t *testing.T) {
	stem := Line{200, 20, 200, 200, 60}
	mask := (&Marks{Head: Ellipse{200, 240, 120, 60, 0}, Stem: &stem}).draw(400, 320)
	for y := range 185 { // the guide hides all but a strip of 60 x 16 pixels, four times wider than long
		for x := 160; x < 240; x++ {
			mask.Pix[y*mask.Stride+x] = Background
		}
	}
	got := measureStem(mask, takeCensus(mask))
	require.NotNil(t, got)
	assertLine(t, Line{200, 185, 200, 200, 60}, *got, 1, 4, "crescent")
}

func TestStemCutAskewKeepsItsDirection(t *testing.T) {
	stem := Line{200, 20, 200, 200, 40}
	mask := (&Marks{Head: Ellipse{200, 260, 120, 80, 0}, Stem: &stem}).draw(400, 360)
	for y := range 110 { // the guide hides the upper end along a 45 degree line
		for x := range 400 {
			if x-180+y < 110 {
				mask.Pix[y*mask.Stride+x] = Background
			}
		}
	}
	got := measureStem(mask, takeCensus(mask))
	require.NotNil(t, got)
	assert.InDelta(t, 200, got.X1, 1.5, "a total least squares axis of all pixels would be off by over 3")
	assert.InDelta(t, 200, got.X2, 1.5, "as above")
	assert.InDelta(t, 40, got.Width, 2, "slices that the cut shortens a little still count")
}

func TestNoStem(t *testing.T) {
	head := Ellipse{200, 240, 120, 60, 0}
	mask := (&Marks{Head: head}).draw(400, 320)
	assert.Nil(t, measureStem(mask, takeCensus(mask)))
	mask.Pix[5] = Stem
	assert.Nil(t, measureStem(mask, takeCensus(mask)), "a pixel is no stem")
}

func TestBeside(t *testing.T) {
	l := &Line{10, 0, 10, 50, 6}
	assert.InDelta(t, 4, l.beside(Point{14, 20}), 1e-12, "float64 rounding")
	assert.InDelta(t, 4, l.beside(Point{6, -40}), 1e-12, "beyond the far end; float64 rounding")
	assert.Greater(t, l.beside(Point{10, 60}), 1e9, "in the head")
}
