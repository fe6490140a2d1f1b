package compare

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"valvegrade/pkg/measure"
)

// Verdict says whether two photos show a change.
type Verdict string

// The verdicts; "" when there was nothing to compare.
const (
	Changed            Verdict = "changed"
	NotDistinguishable Verdict = "not distinguishable"
	// NoClaim stands where photos that do not register as one valve, or results without the map of their valve, were
	// compared all the same: two figures, and nothing that follows.
	NoClaim Verdict = "no claim"
)

// Words are the verdict for the eye, "" when there was nothing to compare: documents keep "not distinguishable", which
// people took for "the same".
func (v Verdict) Words() string {
	if v == NotDistinguishable {
		return "no sure change"
	}
	return string(v)
}

// Change is one figure, 0 to 100, before and after, with 95 % intervals.
type Change struct {
	Before, After measure.Figure
	// Difference is after minus before, in points, -100 to 100: negative when deposit went.
	Difference measure.Figure
	// Detectable is the smallest change that these photos can show, in points: the half width of Difference towards 0,
	// 100 at most.
	Detectable float64

	doubt doubt
	// unclaimed is true where nothing is to be claimed, see NoClaim, leftAlone where nothing was cleaned though others
	// were, so that no share was removed, uncleaned where two odometer readings are compared, so that nobody removed what
	// is gone.
	unclaimed, leftAlone, uncleaned bool
}

// changeOf compares two measurements of one figure.
func changeOf(before, after measure.Figure, of doubt) Change {
	c := Change{Before: before, After: after, doubt: of}
	down, up := of.less.around(1), of.more.around(1)
	d := after.Value - before.Value
	c.Difference = measure.Figure{Value: d, Low: max(-100, d-down), High: min(100, d+up)}
	c.Detectable = min(100, c.towards0())
	return c
}

// towards0 is the half width of Difference towards 0; intervals that reach from end to end make it more than the 100 points
// that any difference is at most.
func (c Change) towards0() float64 {
	down, up := c.doubt.less.around(1), c.doubt.more.around(1)
	switch d := c.Difference.Value; {
	case d < 0:
		return up
	case d > 0:
		return down
	}
	return max(down, up)
}

// sideBySide puts two figures beside each other of which nothing is to be claimed.
func sideBySide(before, after measure.Figure) Change {
	c := unknownChange
	c.Before, c.After, c.unclaimed = before, after, true
	c.Difference.Value = after.Value - before.Value
	return c
}

// CanShow reports whether the photos could show any change at all: of an index of 40, say, no more than 40 points can
// go and 60 come.
func (c Change) CanShow() bool { return c.Detectable < max(c.Before.Value, 100-c.Before.Value) }

// Verdict is Changed when the difference exceeds the smallest detectable change, so that its interval leaves 0 out.
func (c Change) Verdict() Verdict {
	switch d := math.Abs(c.Difference.Value); {
	case math.IsNaN(d):
		return ""
	case c.unclaimed:
		return NoClaim
	case d > c.Detectable:
		return Changed
	default:
		return NotDistinguishable
	}
}

// past reports whether the difference exceeds so many times the smallest detectable change.
func (c Change) past(times float64) bool {
	return c.Verdict() == Changed && math.Abs(c.Difference.Value) > times*c.Detectable
}

// Less returns the probability, 0 to 1, that there is less after than before; NaN where nothing is claimed.
func (c Change) Less() float64 {
	d := c.Difference.Value
	switch half := c.towards0() / measure.Normal975; {
	case math.IsNaN(d) || c.unclaimed:
		return math.NaN()
	case half > 0:
		return distuv.UnitNormal.CDF(-d / half)
	case d < 0:
		return 1
	case d > 0:
		return 0
	}
	return 0.5
}

// cleanedOff reports whether a cleaning took deposit off, beyond doubt.
func (c Change) cleanedOff() bool { return c.less() && !c.leftAlone }

// less reports whether deposit went beyond doubt.
func (c Change) less() bool { return c.Verdict() == Changed && c.Difference.Value < 0 }

// Removed returns which share of the figure is gone, 0 to 1 with its interval, NaN where there was next to nothing
// before, where no change beyond doubt shows that less is there, and for a cylinder that was left alone: then no share is
// claimed.
//
// The interval is that of the ratio of after to before and rests on what that of the difference does, so that it leaves
// 0 out wherever the interval of the difference does.
func (c Change) Removed() measure.Figure {
	if !(c.Before.Value >= bareBelow && c.cleanedOff()) {
		return measure.Unmeasured()
	}
	a, b := c.After.Value, c.Before.Value
	low, high := c.doubt.less.lowest(a, b), c.doubt.more.highest(a, b)
	share := 1 - a/b
	return measure.Figure{Value: share, Low: max(0, min(share, 1-high)), High: min(1, max(share, 1-low))}
}

var unknownChange = Change{
	Before: measure.Unmeasured(), After: measure.Unmeasured(), Difference: measure.Unmeasured(), Detectable: math.NaN(),
}

// Changes are the three figures, compared.
type Changes struct {
	Index, Dark, Coverage Change
}

var unknownChanges = Changes{unknownChange, unknownChange, unknownChange}

// leaveAlone marks the changes as those of a cylinder that was left alone.
func (c *Changes) leaveAlone() {
	c.Index.leftAlone, c.Dark.leftAlone, c.Coverage.leftAlone = true, true, true
}

// uncleaned marks the changes as those between two odometer readings.
func (c *Changes) uncleaned() {
	c.Index.uncleaned, c.Dark.uncleaned, c.Coverage.uncleaned = true, true, true
}

// Verdict is Changed when the index or the dark deposit has changed.
func (c Changes) Verdict() Verdict {
	if c.Dark.Verdict() == Changed {
		return Changed
	}
	return c.Index.Verdict()
}

// Leading is the change to tell first: the dark deposit's, unless the index alone has changed.
func (c Changes) Leading() Change {
	if c.IndexLeads() {
		return c.Index
	}
	return c.Dark
}

// IndexLeads reports whether the index has changed and the dark deposit has not, or is not known, as in results of
// earlier versions.
func (c Changes) IndexLeads() bool {
	return c.Dark.Verdict() == "" || c.Index.Verdict() == Changed && c.Dark.Verdict() != Changed
}
