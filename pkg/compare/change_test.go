package compare

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"valvegrade/pkg/agree"
	"valvegrade/pkg/measure"
)

func around(v, half float64) measure.Figure {
	return measure.Figure{Value: v, Low: max(0, v-half), High: min(100, v+half)}
}

// Two measurements of one thing differ by less than 2.77 standard errors of measurement in 95 % of cases (Bland &
// Altman, "Measurement error", BMJ 313 (1996) 744, from memory); with 1.96 sqrt(2) in full, an SEM of 2 points gives
// 5.543717.
func TestSmallestDetectableChangeOfRepeatablePhotos(t *testing.T) {
	certain := around(50, 0)
	p := Precision{SEM: 2}
	assert.InDelta(
		t,
		5.543717,
		changeOf(certain, around(40, 0), p).Detectable,
		2e-4,
		"the reference takes 1.96 for 1.959964",
	)
	for after, want := range map[float64]Verdict{
		50: NotDistinguishable, 44.5: NotDistinguishable, 55.5: NotDistinguishable, 44.4: Changed, 55.6: Changed,
	} {
		assert.Equal(t, want, changeOf(certain, around(after, 0), p).Verdict(), "50 to %v", after)
	}
}

// What was measured on few valves is taken with care: Student's quantile for 7 degrees of freedom is 2.3646 (any
// table).
func TestFewValvesMakeTheLimitWider(t *testing.T) {
	certain := around(50, 0)
	c := changeOf(certain, around(40, 0), Precision{SEM: 2, DF: 7})
	assert.InDelta(t, 2.3646*math.Sqrt2*2, c.Detectable, 1e-3, "the table has four decimals")

	wide := around(50, 4*measure.Normal975)
	c = changeOf(wide, around(50, 4*measure.Normal975), Precision{Shared: 0.75, DF: 7})
	assert.InDelta(t, 2.3646*math.Sqrt(2*0.25)*4, c.Detectable, 1e-3, "a quarter of the errors is not shared")
	c = changeOf(wide, around(50, 4*measure.Normal975), Precision{Shared: 0.1, DF: 2})
	assert.InDelta(
		t,
		4*math.Sqrt2*measure.Normal975,
		c.Detectable,
		1e-9,
		"never more than two photos that share nothing; float64 rounding",
	)
}

func TestNoSmallestChangeIsLargerThanTheScale(t *testing.T) {
	wide := changeOf(
		measure.Figure{Value: 50, Low: 0, High: 100},
		measure.Figure{Value: 40, Low: 0, High: 100},
		Precision{SEM: 60},
	)
	assert.Equal(t, 100.0, wide.Detectable)
	assert.Equal(t, NotDistinguishable, wide.Verdict())
	assert.False(t, wide.CanShow())
	assert.NotContains(t, wide.sentence(""), "100")
	assert.False(
		t,
		changeOf(around(40, 1), around(30, 1), Precision{SEM: 22}).CanShow(),
		"61 points: more than can go or come",
	)
	assert.True(t, changeOf(around(40, 1), around(30, 1), Precision{SEM: 21}).CanShow(), "58 points can come")
}

// Newcombe, Statistics in Medicine 17 (1998) 873, example (a): 56/70 - 48/80, square-and-add of Wilson intervals
// (method 10) gives 0.0524 to 0.3339.
func TestDifferenceOfTwoProportions(t *testing.T) {
	percent := func(count, of int) measure.Figure {
		p := agree.Wilson(count, of)
		return p.Scaled(100)
	}
	c := changeOf(percent(48, 80), percent(56, 70), Precision{})
	assert.InDelta(t, 20, c.Difference.Value, 1e-9, "exact")
	assert.InDelta(t, 5.24, c.Difference.Low, 0.005, "published to four decimals of a share")
	assert.InDelta(t, 33.39, c.Difference.High, 0.005, "published to four decimals of a share")
	assert.Equal(t, Changed, c.Verdict())
}

// Two estimates of the standard deviations 4 and 3 whose errors correlate by r differ with the variance 16 + 9 - 2 r
// 12.
func TestSharedErrorsDropOut(t *testing.T) {
	before, after := around(50, 4*measure.Normal975), around(50, 3*measure.Normal975)
	for shared, sd := range map[float64]float64{0: 5, 0.5: math.Sqrt(13), 1: 1} {
		c := changeOf(before, after, Precision{Shared: shared})
		assert.InDelta(t, sd*measure.Normal975, c.Difference.High, 1e-9, "shared %v; float64 rounding", shared)
		assert.InDelta(t, sd*measure.Normal975, c.Detectable, 1e-9, "shared %v; float64 rounding", shared)
	}
}

func TestVerdictAndIntervalAgree(t *testing.T) {
	for before := 0.0; before <= 100; before += 12.5 {
		for after := 0.0; after <= 100; after += 12.5 {
			c := changeOf(around(before, 10), around(after, 6), Precision{SEM: 3, Shared: 0.4})
			holdsZero := c.Difference.Low <= 0 && c.Difference.High >= 0
			assert.Equal(t, holdsZero, c.Verdict() == NotDistinguishable, "%v to %v", before, after)
			assert.GreaterOrEqual(t, c.Difference.Low, -100.0)
			assert.LessOrEqual(t, c.Difference.High, 100.0)
		}
	}
}

func TestNothingMeasuredHasNoVerdict(t *testing.T) {
	assert.Equal(t, Verdict(""), unknownChange.Verdict())
	assert.True(t, math.IsNaN(unknownChange.Removed().Value))
}

// With limits that lie evenly around the estimates MOVER-R is Fieller's interval (Donner & Zou 2012): the two ratios R
// at which (a - R b)² = z² (sa² + R² sb² - 2 r R sa sb).
func TestRemovedShareIsFiellers(t *testing.T) {
	a, b, sa, sb := 20.0, 60.0, 2.0, 4.0
	z := measure.Normal975
	for _, shared := range []float64{0, 0.6} {
		quadratic, linear, constant := b*b-z*z*sb*sb, -2*(a*b-shared*z*z*sa*sb), a*a-z*z*sa*sa
		root := math.Sqrt(linear*linear - 4*quadratic*constant)
		low, high := (-linear-root)/(2*quadratic), (-linear+root)/(2*quadratic)

		removed := changeOf(around(b, z*sb), around(a, z*sa), Precision{Shared: shared}).Removed()
		assert.InDelta(t, 1-a/b, removed.Value, 1e-12, "float64 rounding")
		assert.InDelta(t, 1-high, removed.Low, 1e-12, "shared %v; float64 rounding", shared)
		assert.InDelta(t, 1-low, removed.High, 1e-12, "shared %v; float64 rounding", shared)
	}
}

// Both figures certain by themselves, all doubt is that of repeated photos: each is off by SEM, whatever the other
// (Fieller).
func TestRemovedShareIsNoFinerThanRepeatedPhotosAllow(t *testing.T) {
	a, b, e := 20.0, 60.0, 4*measure.Normal975
	quadratic, linear, constant := b*b-e*e, -2*a*b, a*a-e*e
	root := math.Sqrt(linear*linear - 4*quadratic*constant)
	removed := changeOf(around(b, 0), around(a, 0), Precision{SEM: 4, Shared: 0.8}).Removed()
	assert.InDelta(t, 1-(-linear+root)/(2*quadratic), removed.Low, 1e-12, "float64 rounding")
	assert.InDelta(t, 1-(-linear-root)/(2*quadratic), removed.High, 1e-12, "float64 rounding")
}

// As points, the share removed is as unsure as the difference: all of the doubt in the figure after counts, and of that
// in the figure before what is left of it. Of photos that are certain by themselves either is half of the variance.
func TestRemovedShareOfTheIndexBeforeIsTheDifference(t *testing.T) {
	for _, after := range []float64{0, 2.9, 10, 20} {
		c := changeOf(around(41.6, 0), around(after, 0), Measured().Index)
		points := c.Removed().Low * c.Before.Value
		assert.GreaterOrEqual(t, points, -c.Difference.High, "41.6 to %v", after)
		assert.LessOrEqual(t, points, -c.Difference.Value-c.Detectable/math.Sqrt2, "41.6 to %v", after)
		assert.InDelta(t, -c.Difference.Value, c.Removed().Value*c.Before.Value, 1e-9, "float64 rounding")
	}
}

func TestRemovedShareAndDifferenceAgree(t *testing.T) {
	for _, p := range []Precision{{}, {Shared: 0.7}, {SEM: 5}, {SEM: 5, Shared: 0.7}, {SEM: 3, Shared: 0.95, DF: 7}} {
		for _, before := range []measure.Figure{around(50, 24), around(30, 30), around(30, 2), {Value: 30, Low: 28, High: 90}, {Value: 60, Low: 0, High: 62}} {
			for after := 0.0; after <= 50; after += 2.5 {
				for _, half := range []float64{0, 1, 10, 30} {
					c := changeOf(before, around(after, half), p)
					removed := c.Removed()
					assert.Equal(t, c.less(), removed.Low > 0, "%v to %v ±%v, %+v", before, after, half, p)
					if c.less() {
						assert.True(
							t,
							removed.Low <= removed.Value && removed.Value <= removed.High,
							"%v to %v ±%v, %+v",
							before,
							after,
							half,
							p,
						)
					}
				}
			}
		}
	}
}

func TestRemovedShareAtTheEnds(t *testing.T) {
	all := changeOf(around(60, 10), around(0, 0), Precision{}).Removed()
	assert.Equal(t, measure.Figure{Value: 1, Low: 1, High: 1}, all, "nothing left, and that is certain")

	for name, c := range map[string]Change{
		"not beyond doubt":      changeOf(around(50, 24), around(30, 20), Precision{}),
		"the same":              changeOf(around(40, 0), around(40, 0), Precision{}),
		"more than before":      changeOf(around(30, 3), around(40, 3), Precision{}),
		"next to nothing there": changeOf(around(1.9, 3), around(0, 1), Precision{}),
	} {
		assert.True(t, math.IsNaN(c.Removed().Value), name)
	}
}
