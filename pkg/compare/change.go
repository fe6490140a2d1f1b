package compare

import (
	"math"

	"valvegrade/pkg/deposit"
)

// Verdict says whether two photos show a change.
type Verdict string

// The verdicts; "" when there was nothing to compare.
const (
	Changed            Verdict = "changed"
	NotDistinguishable Verdict = "not distinguishable"
)

// Change is one figure, 0 to 100, before and after, with 95 % intervals.
type Change struct {
	Before, After deposit.Interval
	// Difference is after minus before, in points, -100 to 100: negative when deposit went.
	Difference deposit.Interval
	// Detectable is the smallest change that these photos can show, in points: the half width of Difference towards 0.
	Detectable float64
	// shared is the correlation of the errors of Before and After.
	shared float64
}

// quantile975 is that of the standard normal distribution: the half width of a 95 % interval in standard deviations.
const quantile975 = 1.959963984540054

// changeOf compares two measurements of one figure.
//
// The half widths towards each side are joined by square-and-add with correlation (MOVER: Newcombe, Statistics in Medicine 17
// (1998) 2635; Zou & Donner, Statistics in Medicine 27 (2008) 1693): sqrt(l² + u² - 2 r l u), with l and u the half widths on the sides
// that move the difference the same way and r = Shared. No difference is claimed finer than repeated photos allow: neither half width is less
// than the smallest detectable change 1.96 sqrt(2) SEM.
func changeOf(before, after deposit.Interval, p Precision) Change {
	sem, shared := p.careful()
	least := quantile975 * math.Sqrt2 * sem
	down := max(least, squareAndAdd(after.Value-after.Low, before.High-before.Value, shared))
	up := max(least, squareAndAdd(after.High-after.Value, before.Value-before.Low, shared))
	d := after.Value - before.Value
	c := Change{Before: before, After: after, Difference: deposit.Interval{Value: d, Low: max(-100, d-down), High: min(100, d+up)}, shared: shared}
	switch {
	case d < 0:
		c.Detectable = up
	case d > 0:
		c.Detectable = down
	default:
		c.Detectable = max(down, up)
	}
	return c
}

func squareAndAdd(a, b, correlation float64) float64 {
	return math.Sqrt(max(0, a*a+b*b-2*correlation*a*b))
}

// Verdict is Changed when the difference exceeds the smallest detectable change, so that its interval leaves 0 out.
func (c Change) Verdict() Verdict {
	switch d := math.Abs(c.Difference.Value); {
	case math.IsNaN(d):
		return ""
	case d > c.Detectable:
		return Changed
	default:
		return NotDistinguishable
	}
}

// Removed returns which share of the figure is gone, 0 to 1 with its 95 % interval, NaN where there was next to nothing before and
// where no change beyond doubt shows that less is there: then no share is claimed.
//
// The interval is that of the ratio of after to before (MOVER-R: Donner & Zou, Statistical Methods in Medical Research 21 (2012) 347), with the
// correlation of their errors: it leaves 0 out wherever the interval of the difference does.
func (c Change) Removed() deposit.Interval {
	if !(c.Before.Value >= bareBelow && c.less()) {
		return unmeasured
	}
	low, high := ratio(c.After, c.Before, c.shared)
	share := 1 - c.After.Value/c.Before.Value
	return deposit.Interval{Value: share, Low: max(0, min(share, 1-high)), High: min(1, max(share, 1-low))}
}

// ratio returns the interval of a/b: the R at which a - R b, its half widths joined by square-and-add, just reaches 0. They are
// the roots of q R² - 2 p R + s = 0. high is +Inf when b may be 0.
func ratio(a, b deposit.Interval, shared float64) (low, high float64) {
	p := a.Value*b.Value - shared*(a.Value-a.Low)*(b.High-b.Value)
	q, s := b.High*(2*b.Value-b.High), a.Low*(2*a.Value-a.Low)
	if s > 0 {
		low = s / (p + math.Sqrt(max(0, p*p-q*s)))
	}
	if b.Low <= 0 {
		return low, math.Inf(1)
	}
	p = a.Value*b.Value - shared*(a.High-a.Value)*(b.Value-b.Low)
	q, s = b.Low*(2*b.Value-b.Low), a.High*(2*a.Value-a.High)
	return low, (p + math.Sqrt(max(0, p*p-q*s))) / q
}
