package compare

import (
	"math"
	"slices"

	"valvegrade/pkg/measure"
	"valvegrade/pkg/reason"
	"valvegrade/pkg/score"
)

// Options say how to compare. The zero value is right for everyday use.
type Options struct {
	// Force compares two photos that do not register as one valve; the result says so, and claims no change.
	Force bool
	// Repeatability of the program; nil means Measured.
	Repeatability *Repeatability
}

func (o Options) repeatability() Repeatability {
	if o.Repeatability != nil {
		return *o.Repeatability
	}
	return Measured()
}

// Comparison is what two photos of one valve say together.
type Comparison struct {
	Before, After *View
	// Compared is false when the photos were refused; then all figures are NaN and Verdict is "".
	Compared bool
	// Forced is true when the photos do not register and were compared all the same; the verdict is NoClaim then.
	Forced bool
	// Reasons hold refusals first, then cautions; empty when there is nothing to say.
	Reasons []reason.Reason
	Verdict Verdict
	// Index and Coverage are those of what both photos show, see Common.
	Index, Coverage Change
	// Registration is nil when a photo has no map.
	Registration *Registration
	// Common is the share of the readable valve, mean of the two photos, that both show, 0 to 1. Residue holds the two
	// maps, Zones every zone, Clock the hours 1 to 12 of the head at its indices 0 to 11. NaN and nil where the maps
	// could not be laid on each other: then Index and Coverage are those of all that either photo shows, their
	// intervals as if supposedShare were common.
	Common  float64
	Residue *Residue
	Zones   map[Zone]Part
	Clock   []Part
}

// Photos compares the results of two photos of one valve, the earlier one first: of what both show where the results
// carry the maps of the valve (score.Options.Map), else of the whole valves.
func Photos(before, after *score.Record, o Options) *Comparison {
	return Views(NewView(before), NewView(after), o)
}

// Views compares two views of one valve, the earlier one first.
func Views(before, after *View, o Options) *Comparison {
	c := &Comparison{Before: before, After: after, Common: math.NaN(), Index: unknownChange, Coverage: unknownChange}
	if c.Reasons = photoReasons(before, after); Refuses(c.Reasons) {
		return c
	}
	if !before.mapped() || !after.mapped() {
		c.figuresOnly(o)
		return c
	}
	a, registration := register(before.Map, after.Map)
	registration.laid = a
	residue, weight := overlay(before.Map, after.Map, a)
	c.Registration, c.Common = &registration, sum(weight)
	if registration.Method == ByOutline {
		c.Common = math.NaN() // which cells are the same is not known
	}
	c.Reasons = append(poseReasons(before, after, c.Common), c.Reasons...)
	if Refuses(c.Reasons) {
		if !o.Force || c.Common == 0 {
			return c
		}
		c.Forced = true
	}
	if registration.Method == ByOutline {
		c.Reasons = append(c.Reasons, table.Of(AngleUnknown))
		c.wholes(o.repeatability())
		return c
	}
	if registration.Method == ByStem {
		c.Reasons = append(c.Reasons, table.Of(OnYourWord))
	}
	c.Residue = residue
	c.measure(weight, o.repeatability())
	return c
}

func sum(weights []float64) float64 {
	total := 0.0
	for _, w := range weights {
		total += w
	}
	return total
}

// measure takes all figures from the laid-out maps.
func (c *Comparison) measure(weight []float64, r Repeatability) {
	var whole both
	zones := map[Zone]*both{Rim: {}, Fillet: {}, Stem: {}}
	clock := make([]both, hours)
	for cell, w := range weight {
		if w == 0 {
			continue
		}
		before, after, zone := c.Residue.Before[cell], c.Residue.After[cell], zoneOf(cell)
		whole.add(before, after, w)
		zones[zone].add(before, after, w)
		if zone != Stem {
			clock[hourOf(cell)-1].add(before, after, w)
		}
	}
	c.Zones = map[Zone]Part{}
	for zone, b := range zones {
		c.Zones[zone] = b.part(whole.sum())
	}
	for i := range clock {
		c.Clock = append(c.Clock, clock[i].part(whole.sum()))
	}
	before, after := measure.SharesOf(whole.before), measure.SharesOf(whole.after)
	index := [2]measure.Figure{
		carry(c.Before.Index, before.Index(), c.Common), carry(c.After.Index, after.Index(), c.Common),
	}
	coverage := [2]measure.Figure{
		carry(c.Before.Coverage, before.Coverage(), c.Common), carry(c.After.Coverage, after.Coverage(), c.Common),
	}
	c.conclude(index, coverage, r)
}

// carry brings the interval of a whole valve to the figure of a share of it: the half widths grow as those of a smaller
// sample do, and end at 0 and 100.
func carry(whole measure.Figure, value, share float64) measure.Figure {
	wider := 1 / math.Sqrt(share)
	return measure.Figure{
		Value: value,
		Low:   max(0, value-wider*(whole.Value-whole.Low)),
		High:  min(100, value+wider*(whole.High-whole.Value)),
	}
}

// conclude compares index and coverage, each before and after.
func (c *Comparison) conclude(index, coverage [2]measure.Figure, r Repeatability) {
	c.Compared = true
	c.Index = changeOf(index[0], index[1], r.Index)
	c.Coverage = changeOf(coverage[0], coverage[1], r.Coverage)
	c.Index.forced, c.Coverage.forced = c.Forced, c.Forced
	c.Verdict = c.Index.Verdict()
}

// figuresOnly compares the whole valves as the photos show them: for saved results, and when forced to.
func (c *Comparison) figuresOnly(o Options) {
	if c.Before.Map != nil && c.After.Map != nil {
		c.Reasons = append([]reason.Reason{table.With(NoOutline, c.withoutOutline())}, c.Reasons...)
		if !o.Force {
			return
		}
		c.Forced = true
	}
	c.Reasons = append(c.Reasons, table.Of(FiguresOnly))
	c.wholes(o.repeatability())
}

// supposedShare stands for Common where it is not known: photos of one valve usually have more in common
// (TestSavedResultsClaimNoMoreThanTheirPhotos holds that the demo photos do). Less is possible, down to leastShare;
// only the photos can tell.
const supposedShare = 0.7

// wholes compares all that either photo shows. Which part of it both show is not known, and the rest speaks for the
// common part as a larger sample does for a smaller one: the variance of a whole figure, v, grows by that between whole
// and part, v/share - v. That makes the v/share which carry gives a part.
func (c *Comparison) wholes(r Repeatability) {
	whole := func(i measure.Figure) measure.Figure { return carry(i, i.Value, supposedShare) }
	index := [2]measure.Figure{whole(c.Before.Index), whole(c.After.Index)}
	coverage := [2]measure.Figure{whole(c.Before.Coverage), whole(c.After.Coverage)}
	// How well repeated photos agree was measured on what both show, too.
	r.Index.SEM /= math.Sqrt(supposedShare)
	r.Coverage.SEM /= math.Sqrt(supposedShare)
	c.conclude(index, coverage, r)
}

// ByFigures reports whether whole valves were compared by their figures, because the photos are not at hand: another
// measurement than that of what both photos show, which may come to another verdict.
func (c *Comparison) ByFigures() bool {
	return c.Compared && slices.ContainsFunc(c.Reasons, func(r reason.Reason) bool { return r.Code == FiguresOnly })
}

// withoutOutline names the photo that has no outline.
func (c *Comparison) withoutOutline() string {
	if !c.Before.mapped() {
		return c.Before.name()
	}
	return c.After.name()
}

var unknownChange = Change{
	Before: measure.Unmeasured(), After: measure.Unmeasured(), Difference: measure.Unmeasured(), Detectable: math.NaN(),
}
