package compare

import (
	"math"

	"valvegrade/pkg/measure"
)

// Verdict says whether two photos show a change.
type Verdict string

// The verdicts; "" when there was nothing to compare.
const (
	Changed            Verdict = "changed"
	NotDistinguishable Verdict = "not distinguishable"
	// NoClaim stands where photos that do not register as one valve were compared all the same: two figures, and
	// nothing that follows.
	NoClaim Verdict = "no claim"
)

// Change is one figure, 0 to 100, before and after, with 95 % intervals.
type Change struct {
	Before, After measure.Figure
	// Difference is after minus before, in points, -100 to 100: negative when deposit went.
	Difference measure.Figure
	// Detectable is the smallest change that these photos can show, in points: the half width of Difference towards 0,
	// 100 at most.
	Detectable float64
	// shared is the correlation of the errors of Before and After, least the half width of Difference that repeated
	// photos allow, in points.
	shared, least float64
	// forced is true where nothing is to be claimed, see NoClaim.
	forced bool
}

// changeOf compares two measurements of one figure.
//
// The half widths towards each side are joined by square-and-add with correlation (MOVER: Newcombe, Statistics in
// Medicine 17 (1998) 2635; Zou & Donner, Statistics in Medicine 27 (2008) 1693): sqrt(l² + u² - 2 r l u), with l and u
// the half widths on the sides that move the difference the same way and r = Shared. No difference is claimed finer
// than repeated photos allow: neither half width is less than the smallest detectable change 1.96 sqrt(2) SEM.
func changeOf(before, after measure.Figure, p Precision) Change {
	sem, shared := p.careful()
	c := Change{Before: before, After: after, shared: shared, least: measure.Normal975 * math.Sqrt2 * sem}
	down, up := max(c.least, c.down().around(1)), max(c.least, c.up().around(1))
	d := after.Value - before.Value
	c.Difference = measure.Figure{Value: d, Low: max(-100, d-down), High: min(100, d+up)}
	switch {
	case d < 0:
		c.Detectable = up
	case d > 0:
		c.Detectable = down
	default:
		c.Detectable = max(down, up)
	}
	c.Detectable = min(100, c.Detectable)
	return c
}

// CanShow reports whether the photos could show any change at all: of an index of 40, say, no more than 40 points can
// go and 60 come.
func (c Change) CanShow() bool { return c.Detectable < max(c.Before.Value, 100-c.Before.Value) }

// down and up are the doubt of the two figures towards less and towards more after than before.
func (c Change) down() spread {
	return spreadOf(c.After.Value-c.After.Low, c.Before.High-c.Before.Value, c.shared)
}

func (c Change) up() spread {
	return spreadOf(c.After.High-c.After.Value, c.Before.Value-c.Before.Low, c.shared)
}

// repeated is the doubt that two photos of one valve always leave, new in each and alike in size.
func (c Change) repeated() spread {
	return spreadOf(c.least/math.Sqrt2, c.least/math.Sqrt2, 0)
}

// Verdict is Changed when the difference exceeds the smallest detectable change, so that its interval leaves 0 out.
func (c Change) Verdict() Verdict {
	switch d := math.Abs(c.Difference.Value); {
	case math.IsNaN(d):
		return ""
	case c.forced:
		return NoClaim
	case d > c.Detectable:
		return Changed
	default:
		return NotDistinguishable
	}
}

// Removed returns which share of the figure is gone, 0 to 1 with its 95 % interval, NaN where there was next to nothing
// before and where no change beyond doubt shows that less is there: then no share is claimed.
//
// The interval is that of the ratio of after to before and rests on what that of the difference does: the doubt of both
// figures, and no less than repeated photos leave. So it leaves 0 out wherever the interval of the difference does.
func (c Change) Removed() measure.Figure {
	if !(c.Before.Value >= bareBelow && c.less()) {
		return measure.Unmeasured()
	}
	a, b := c.After.Value, c.Before.Value
	low := min(c.down().lowest(a, b), c.repeated().lowest(a, b))
	high := max(c.up().highest(a, b), c.repeated().highest(a, b))
	share := 1 - a/b
	return measure.Figure{Value: share, Low: max(0, min(share, 1-high)), High: min(1, max(share, 1-low))}
}
