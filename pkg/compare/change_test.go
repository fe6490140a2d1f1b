package compare

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"valvegrade/pkg/measure"
)

func around(v, half float64) measure.Figure {
	return measure.Figure{Value: v, Low: max(0, v-half), High: min(100, v+half)}
}

// off is the doubt of two figures whose errors have these standard deviations, to either side, and correlate by shared.
func off(before, after, shared float64) doubt {
	square := measure.Normal975 * measure.Normal975
	s := spread{square * after * after, square * before * before, square * shared * after * before}
	return doubt{s, s}
}

// repeated is what repeated photos leave: SEM in each, and nothing else.
func repeated(sem float64) doubt {
	return doubtOf(measure.Exactly(50), measure.Exactly(50), 0, 2*sem*sem)
}

func change(before, after float64, of doubt) Change {
	return changeOf(around(before, 0), around(after, 0), of)
}

// Two measurements of one thing differ by sqrt(2) standard errors of measurement (Bland & Altman, "Measurement error",
// BMJ 313 (1996) 744, from memory): 2.77 of them are the smallest change that can be told.
func TestSmallestDetectableChangeOfRepeatablePhotos(t *testing.T) {
	assert.InDelta(t, 2.77*2, change(50, 40, repeated(2)).Detectable, 0.005)
	for after, want := range map[float64]Verdict{
		50: NotDistinguishable, 44.5: NotDistinguishable, 55.5: NotDistinguishable, 44.4: Changed, 55.6: Changed,
	} {
		assert.Equal(t, want, change(50, after, repeated(2)).Verdict(), "50 to %v", after)
	}
}

func TestNoSmallestChangeIsLargerThanTheScale(t *testing.T) {
	wide := change(50, 40, repeated(60))
	assert.Equal(t, 100.0, wide.Detectable)
	assert.Equal(t, NotDistinguishable, wide.Verdict())
	assert.False(t, wide.CanShow())
	assert.Contains(t, Changes{Index: wide, Dark: wide}.Unsure(), "too wide")
	assert.False(t, change(40, 30, repeated(22)).CanShow(), "61 points: more than can go or come")
	assert.True(t, change(40, 30, repeated(20)).CanShow(), "55 points can come")
}

// Two estimates of the standard deviations 4 and 3 whose errors correlate by r differ with the variance 16 + 9 - 2 r
// 12.
func TestSharedErrorsDropOut(t *testing.T) {
	for shared, sd := range map[float64]float64{0: 5, 0.5: math.Sqrt(13), 1: 1} {
		c := change(50, 50, off(4, 3, shared))
		assert.InDelta(t, sd*measure.Normal975, c.Difference.High, 1e-9, "shared %v; float64 rounding", shared)
		assert.InDelta(t, sd*measure.Normal975, c.Detectable, 1e-9, "shared %v; float64 rounding", shared)
	}
}

// The difference may be as much less as after may be and before may be more: sqrt(2² + 10²) and sqrt(15² + 20²) by hand,
// and with errors that correlate by a half 2 * 0.5 * 2 * 10 and 2 * 0.5 * 15 * 20 less below the roots.
func TestLopsidedIntervalsStayLopsided(t *testing.T) {
	before, after := measure.Figure{Value: 50, Low: 30, High: 60}, measure.Figure{Value: 20, Low: 18, High: 35}
	for shared, want := range map[float64][2]float64{
		0: {math.Sqrt(104), 25}, 0.5: {math.Sqrt(84), math.Sqrt(325)},
	} {
		d := changeOf(before, after, doubtOf(before, after, shared, 0)).Difference
		assert.InDelta(t, -30-want[0], d.Low, 1e-9, "shared %v; float64 rounding", shared)
		assert.InDelta(t, -30+want[1], d.High, 1e-9, "shared %v; float64 rounding", shared)
	}
}

// A valve that is bare beyond doubt takes nothing off the doubt about what was on it.
func TestDifferenceIsNoSurerThanWhatDoesNotShareItsErrors(t *testing.T) {
	before := measure.Figure{Value: 90, Low: 46, High: 100}
	for _, bare := range []measure.Figure{measure.Exactly(0), {Value: 0, Low: 0, High: 3}} {
		d := changeOf(before, bare, doubtOf(before, bare, 0, 0)).Difference
		assert.GreaterOrEqual(t, d.High, -46.0)
		assert.Equal(t, -100.0, d.Low)
	}
}

func TestVerdictAndIntervalAgree(t *testing.T) {
	for before := 0.0; before <= 100; before += 12.5 {
		for after := 0.0; after <= 100; after += 12.5 {
			c := change(before, after, off(5, 3, 0.4))
			holdsZero := c.Difference.Low <= 0 && c.Difference.High >= 0
			assert.Equal(t, holdsZero, c.Verdict() == NotDistinguishable, "%v to %v", before, after)
			assert.GreaterOrEqual(t, c.Difference.Low, -100.0)
			assert.LessOrEqual(t, c.Difference.High, 100.0)
		}
	}
}

func TestEitherFigureShowsAChange(t *testing.T) {
	same, less := change(50, 50, repeated(2)), change(50, 20, repeated(2))
	assert.Equal(t, NotDistinguishable, Changes{Index: same, Dark: same}.Verdict())
	for _, c := range []Changes{{Index: less, Dark: same}, {Index: same, Dark: less}} {
		assert.Equal(t, Changed, c.Verdict())
		assert.Equal(t, less, c.Leading())
	}
	assert.False(t, Changes{Index: less, Dark: less}.IndexLeads())
}

func TestNothingMeasuredHasNoVerdict(t *testing.T) {
	assert.Equal(t, Verdict(""), unknownChange.Verdict())
	assert.Equal(t, Verdict(""), unknownChanges.Verdict())
	assert.True(t, math.IsNaN(unknownChange.Removed().Value))
	assert.True(t, math.IsNaN(unknownChange.Less()))
}

// P(X > 0) of a normal difference of 2 standard deviations is 0.97725 (any table).
func TestProbabilityOfLess(t *testing.T) {
	assert.InDelta(t, 0.97725, change(50, 40, off(3, 4, 0)).Less(), 5e-6)
	assert.InDelta(t, 0.02275, change(40, 50, off(3, 4, 0)).Less(), 5e-6)
	// Half widths of 90 before and 100 after: no change of 134 points can be, and the probability rests on it all the same.
	widest := changeOf(measure.Figure{Value: 90, High: 100}, measure.Figure{High: 100}, doubtOf(measure.Figure{Value: 90, High: 100}, measure.Figure{High: 100}, 0, 0))
	assert.Equal(t, 100.0, widest.Detectable)
	assert.InDelta(t, 0.90510, widest.Less(), 5e-6)
	assert.Equal(t, 0.5, change(40, 40, off(0, 0, 0)).Less())
	assert.Equal(t, 1.0, change(40, 39, off(0, 0, 0)).Less())
	assert.True(t, math.IsNaN(sideBySide(around(40, 1), around(30, 1)).Less()))
}

// With draws that lie evenly around the figures MOVER-R is Fieller's interval (Donner & Zou 2012): the two ratios R at
// which (a - R b)² = z² (sa² + R² sb² - 2 r R sa sb).
func TestRemovedShareIsFiellers(t *testing.T) {
	a, b, sa, sb := 20.0, 60.0, 2.0, 4.0
	z := measure.Normal975
	for _, shared := range []float64{0, 0.6} {
		quadratic, linear, constant := b*b-z*z*sb*sb, -2*(a*b-shared*z*z*sa*sb), a*a-z*z*sa*sa
		root := math.Sqrt(linear*linear - 4*quadratic*constant)
		low, high := (-linear-root)/(2*quadratic), (-linear+root)/(2*quadratic)

		removed := change(b, a, off(sb, sa, shared)).Removed()
		assert.InDelta(t, 1-a/b, removed.Value, 1e-12, "float64 rounding")
		assert.InDelta(t, 1-high, removed.Low, 1e-12, "shared %v; float64 rounding", shared)
		assert.InDelta(t, 1-low, removed.High, 1e-12, "shared %v; float64 rounding", shared)
	}
}

func TestRemovedShareAndDifferenceAgree(t *testing.T) {
	for _, shared := range []float64{0, 0.7, 0.95} {
		for _, before := range [][2]float64{{50, 12}, {30, 15}, {30, 1}, {60, 30}} {
			for after := 0.0; after <= 50; after += 2.5 {
				for _, half := range []float64{0, 1, 5, 15} {
					c := change(before[0], after, off(before[1], half, shared))
					removed := c.Removed()
					assert.Equal(t, c.less(), removed.Low > 0, "%v to %v ±%v, %v", before, after, half, shared)
					if c.less() {
						assert.True(t, removed.Low <= removed.Value && removed.Value <= removed.High,
							"%v to %v ±%v, %v", before, after, half, shared)
					}
				}
			}
		}
	}
}

func TestRemovedShareAtTheEnds(t *testing.T) {
	all := change(60, 0, off(5, 0, 0)).Removed()
	assert.Equal(t, measure.Figure{Value: 1, Low: 1, High: 1}, all, "nothing left, and that is certain")

	for name, c := range map[string]Change{
		"not beyond doubt":      change(50, 30, off(12, 10, 0)),
		"the same":              change(40, 40, off(0, 0, 0)),
		"more than before":      change(30, 40, off(1, 1, 0)),
		"next to nothing there": change(1.9, 0, off(0.1, 0.1, 0)),
		"no claim":              sideBySide(around(60, 0), around(0, 0)),
	} {
		assert.True(t, math.IsNaN(c.Removed().Value), name)
	}
}
