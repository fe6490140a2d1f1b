package compare

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"valvegrade/pkg/deposit"
	"valvegrade/pkg/measure"
)

func around(v, half float64) measure.Figure {
	return measure.Figure{Value: v, Low: max(0, v-half), High: min(100, v+half)}
}

// off makes draws whose standard deviations before and after are given, and correlate by shared: four draws of two
// independent signs.
func off(before, after, shared float64) paired {
	p := paired{weight: []float64{1, 1, 1, 1}}
	for _, signs := range [][2]float64{{1, 1}, {1, -1}, {-1, 1}, {-1, -1}} {
		p.before = append(p.before, before*signs[0])
		p.after = append(p.after, after*(shared*signs[0]+math.Sqrt(1-shared*shared)*signs[1]))
	}
	return p
}

// repeated is what repeated photos leave: SEM in each, and nothing else.
func repeated(sem float64) paired {
	p := off(0, 0, 0)
	p.alone = 2 * sem * sem
	return p
}

func change(before, after float64, p paired) Change {
	return changeOf(around(before, 0), around(after, 0), p)
}

// Of two tests each gets 2.5 %: the quantile of the standard normal distribution at 0.9875 is 2.2414 (any table).
func TestBothTestsCount(t *testing.T) {
	assert.InDelta(t, 2.2414, together, 5e-5)
}

// Two measurements of one thing differ by sqrt(2) standard errors of measurement (Bland & Altman, "Measurement error",
// BMJ 313 (1996) 744, from memory, with 1.96 for one test).
func TestSmallestDetectableChangeOfRepeatablePhotos(t *testing.T) {
	assert.InDelta(t, 2.2414*math.Sqrt2*2, change(50, 40, repeated(2)).Detectable, 2e-4)
	for after, want := range map[float64]Verdict{
		50: NotDistinguishable, 43.7: NotDistinguishable, 56.3: NotDistinguishable, 43.6: Changed, 56.4: Changed,
	} {
		assert.Equal(t, want, change(50, after, repeated(2)).Verdict(), "50 to %v", after)
	}
}

func TestNoSmallestChangeIsLargerThanTheScale(t *testing.T) {
	wide := change(50, 40, repeated(60))
	assert.Equal(t, 100.0, wide.Detectable)
	assert.Equal(t, NotDistinguishable, wide.Verdict())
	assert.False(t, wide.CanShow())
	assert.Contains(t, Changes{Index: wide, Dark: wide}.Unseen(), "too wide")
	assert.False(t, change(40, 30, repeated(19)).CanShow(), "60.2 points: more than can go or come")
	assert.True(t, change(40, 30, repeated(18)).CanShow(), "57 points can come")
}

// Two estimates of the standard deviations 4 and 3 whose errors correlate by r differ with the variance 16 + 9 - 2 r
// 12.
func TestSharedErrorsDropOut(t *testing.T) {
	for shared, sd := range map[float64]float64{0: 5, 0.5: math.Sqrt(13), 1: 1} {
		c := change(50, 50, off(4, 3, shared))
		assert.InDelta(t, sd*together, c.Difference.High, 1e-9, "shared %v; float64 rounding", shared)
		assert.InDelta(t, sd*together, c.Detectable, 1e-9, "shared %v; float64 rounding", shared)
	}
}

// Draws that say one thing of one side leave that side as it is, and the other with what is known of it.
func TestLopsidedDrawsStayLopsided(t *testing.T) {
	up := paired{before: make([]float64, 4), after: []float64{0, 0, 6, 6}, weight: []float64{1, 1, 1, 1}}
	c := change(0, 0, up)
	assert.InDelta(t, 6*together, c.Difference.High, 1e-9, "float64 rounding")
	assert.Zero(t, c.Difference.Low)
	up.weight = []float64{1, 1, 1, 0}
	assert.InDelta(t, 6*together*math.Sqrt(1/1.5), change(0, 0, up).Difference.High, 1e-9, "a third of the weight is above")
	all := paired{before: make([]float64, 2), after: []float64{3, 4}, weight: []float64{1, 1}}
	assert.InDelta(t, together*math.Sqrt(12.5), change(20, 20, all).Difference.High, 1e-9, "all of it")
}

// What four valves have each alone averages out to half; what they share stays.
func TestMeanOfSeveralValves(t *testing.T) {
	same, alone := off(4, 3, 0), repeated(2)
	assert.InDelta(t, 5*together, change(50, 50, meanOf([]paired{same, same, same, same})).Detectable, 1e-9)
	assert.InDelta(t, math.Sqrt2*together, change(50, 50, meanOf([]paired{alone, alone, alone, alone})).Detectable, 1e-9)
	grew := change(20, 26, alone)
	assert.Equal(t, NotDistinguishable, grew.Verdict(), "6 points of one valve")
	valve := Valve{1, &Comparison{Compared: true, Changes: Changes{grew, grew, grew}, Verdict: NotDistinguishable}}
	together := meanChanges([]Valve{valve, valve, valve, valve})
	assert.Equal(t, Changed, together.Verdict(), "6 points of each of four")
	assert.InDelta(t, 6, together.Dark.Difference.Value, 1e-9)
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
	assert.Equal(t, 0.5, change(40, 40, off(0, 0, 0)).Less())
	assert.Equal(t, 1.0, change(40, 39, off(0, 0, 0)).Less())
	assert.True(t, math.IsNaN(sideBySide(around(40, 1), around(30, 1)).Less()))
}

// With draws that lie evenly around the figures MOVER-R is Fieller's interval (Donner & Zou 2012): the two ratios R at
// which (a - R b)² = z² (sa² + R² sb² - 2 r R sa sb).
func TestRemovedShareIsFiellers(t *testing.T) {
	a, b, sa, sb := 20.0, 60.0, 2.0, 4.0
	z := together
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

// Results of other versions move by other draws, so that nothing is taken to be shared.
func TestOtherVersionsShareNothing(t *testing.T) {
	draws := deposit.Draws{
		Index: []float64{40, 45, 50, 55}, Dark: []float64{0, 0, 0, 0}, Coverage: []float64{0, 0, 0, 0}, Weight: []float64{1, 1, 1, 1},
	}
	view := func(version string) *View {
		v := &View{Version: version, Map: drawnMap(t, draws)}
		v.Index = around(47.5, 10)
		return v
	}
	whole := [2]measure.Figure{around(47.5, 10), around(47.5, 10)}
	assert.Zero(t, indexReading.pair(view("1"), view("1"), whole).spread(1).around(1))
	assert.NotZero(t, indexReading.pair(view("1"), view("2"), whole).spread(1).around(1))
}
