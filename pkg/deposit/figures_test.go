package deposit

import (
	"image"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"valvegrade/pkg/grade"
	"valvegrade/pkg/measure"
	"valvegrade/pkg/region"
)

// The worked examples of the deposit index, 100 * (1.00 heavy + 0.50 medium + 0.25 film): area times a factor per
// level. Shares in percent; exact by definition.
var workedExamples = []struct {
	heavy, medium, film, bare int
	coverage, index           float64
	grade                     int
}{
	{0, 0, 0, 100, 0, 0, 0},
	{1, 0, 0, 99, 1, 1, 0},
	{0, 0, 8, 92, 8, 2, 1},
	{5, 10, 20, 65, 35, 15, 2},
	{0, 20, 20, 60, 40, 15, 2},
	{0, 0, 100, 0, 100, 25, 2},
	{10, 25, 40, 25, 75, 32.5, 2},
	{15, 25, 30, 30, 70, 35, 2},
	{0, 100, 0, 0, 100, 50, 3},
	{33, 33, 34, 0, 100, 58, 3},
	{45, 35, 15, 5, 95, 66.25, 3},
	{100, 0, 0, 0, 100, 100, 4},
}

func TestWorkedExamples(t *testing.T) {
	for _, e := range workedExamples {
		f := tally{classes: [4]int{e.bare, e.film, e.medium, e.heavy}}.figures()
		assert.InDelta(t, e.index, f.Index.Value, 1e-12, "%+v: float64 sums", e)
		assert.InDelta(t, e.coverage, f.Coverage.Value, 1e-12, "%+v", e)
		assert.Equal(t, e.grade, grade.Of(f.Index, grade.Probabilities{}).Value, "%+v: a limit belongs upward", e)
	}
}

// The areas at which ASTM D610-08 (2012), table 1, changes its rust grade, in percent: whatever one thinks of another
// scale's steps, a scale of area must order them alike.
func TestAreasOfARustScaleKeepTheirOrder(t *testing.T) {
	last := tally{classes: [4]int{10000, 0, 0, 0}}.figures()
	for _, area := range []float64{0.01, 0.03, 0.1, 0.3, 1, 3, 10, 16, 33, 50, 100} {
		rusted := int(math.Round(area * 100))
		f := tally{classes: [4]int{10000 - rusted, 0, 0, rusted}}.figures()
		assert.InDelta(t, area, f.Coverage.Value, 1e-9, "float64 sums")
		assert.Greater(t, f.Index.Value, last.Index.Value, "%v %%", area)
		assert.GreaterOrEqual(t, gradeOf(f), gradeOf(last), "%v %%", area)
		last = f
	}
}

func gradeOf(f Figures) int { return grade.Of(f.Index, grade.Probabilities{}).Value }

func TestUnreadablePixelsDoNotCountAsBare(t *testing.T) {
	f := tally{classes: [4]int{30, 0, 10, 0}, unreadable: 60}.figures()
	assert.Equal(t, 100, f.Pixels)
	assert.Equal(t, 0.6, f.Unreadable)
	assert.Equal(t, measure.Shares{Bare: 0.75, Medium: 0.25}, f.Shares)
}

func TestNothingReadableIsNotZero(t *testing.T) {
	f := tally{unreadable: 5}.figures()
	assert.Equal(t, 1.0, f.Unreadable)
	for _, value := range []float64{f.Shares.Bare, f.Coverage.Value, f.Index.Value, f.Index.Low, f.Index.High} {
		assert.True(t, math.IsNaN(value))
	}
}

func TestCountSplitsHeadAndStem(t *testing.T) {
	mask := image.NewGray(image.Rect(0, 0, 4, 1))
	copy(mask.Pix, []uint8{region.Head, region.Stem, region.Head, region.Background})
	classes := image.NewGray(mask.Rect)
	copy(classes.Pix, []uint8{Heavy, Film, Unreadable, NotValve})
	head, stem := count(mask, classes, mask.Rect)
	assert.Equal(t, tally{classes: [4]int{0, 0, 0, 1}, unreadable: 1}, head)
	assert.Equal(t, tally{classes: [4]int{0, 1, 0, 0}}, stem)
}
