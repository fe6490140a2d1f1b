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
	// Changes are those of what both photos show, see Common.
	Changes
	// Registration is nil when a photo has no map.
	Registration *Registration
	// Common is the share of the readable valve, mean of the two photos, that both show, 0 to 1. Residue holds the two
	// maps, Zones every zone, Clock the hours 1 to 12 of the head at its indices 0 to 11. NaN and nil where the maps
	// could not be laid on each other: then the figures are those of all that either photo shows, and how far two parts
	// of one valve differ is added to the doubt.
	Common  float64
	Residue *Residue
	Zones   map[Zone]Part
	Clock   []Part
}

// Photos compares the results of two photos of one valve, the earlier one first. Where results carry no map of the
// valve (score.Options.Map) their figures stand side by side, and no change is claimed.
func Photos(before, after *score.Record, o Options) *Comparison {
	return Views(NewView(before), NewView(after), o)
}

// Views compares two views of one valve, the earlier one first.
func Views(before, after *View, o Options) *Comparison {
	c := &Comparison{Before: before, After: after, Common: math.NaN(), Changes: unknownChanges}
	if c.Reasons = photoReasons(before, after); Refuses(c.Reasons) {
		if !o.Force || !before.scored() || !after.scored() {
			return c
		}
		c.Forced = true
	}
	if before.Map == nil || after.Map == nil {
		c.Reasons = append(c.Reasons, table.Of(FiguresOnly))
		c.sideBySide()
		return c
	}
	if !before.mapped() || !after.mapped() {
		c.Reasons = append(c.Reasons, table.Of(NoOutline))
		c.wholes(o.repeatability())
		return c
	}
	a, registration := register(before.Map, after.Map)
	registration.laid = a
	residue, weight := overlay(before.Map, after.Map, a)
	c.Registration, c.Common = &registration, inBoth(weight)
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
	var swings []both
	if c.Registration.Method == ByStem {
		swings = c.swings()
	}
	seen := [2]measure.Reading{
		carried(c.Before.Reading, whole.shares(0), c.Common), carried(c.After.Reading, whole.shares(1), c.Common),
	}
	c.each(r, func(f reading, p Precision) Change {
		before, after := f.whole(seen[0]), f.whole(seen[1])
		shared := f.shared(c.Before, c.After, apart(seen[0], seen[1]))
		return changeOf(before, after, doubtOf(before, after, shared, 2*p.SEM*p.SEM+swung(f, whole, swings)))
	})
}

// each compares each figure, and concludes.
func (c *Comparison) each(r Repeatability, of func(reading, Precision) Change) {
	c.Compared = true
	c.Index, c.Dark, c.Coverage = of(indexReading, r.Index), of(darkReading, r.Dark), of(coverageReading, r.Coverage)
	if c.Forced {
		for _, change := range []*Change{&c.Index, &c.Dark, &c.Coverage} {
			*change = sideBySide(change.Before, change.After)
		}
	}
	c.Verdict = c.Changes.Verdict()
}

// carried is the reading of a share of a valve with the intervals of the whole.
func carried(whole measure.Reading, shares measure.Shares, share float64) measure.Reading {
	return measure.Reading{
		Index:    carry(whole.Index, shares.Index(), share),
		Dark:     carry(whole.Dark, shares.Dark(), share),
		Coverage: carry(whole.Coverage, shares.Coverage(), share),
	}.Consistent()
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

// wholes compares all that either photo shows, where it is not known which part of it both show: two parts of one valve
// differ, too.
func (c *Comparison) wholes(r Repeatability) {
	c.each(r, func(f reading, p Precision) Change {
		before, after := f.whole(c.Before.Reading), f.whole(c.After.Reading)
		shared := f.shared(c.Before, c.After, apart(c.Before.Reading, c.After.Reading))
		return changeOf(before, after, doubtOf(before, after, shared, 2*(p.SEM*p.SEM+p.Parts*p.Parts)))
	})
}

// sideBySide puts the figures of the whole valves side by side.
func (c *Comparison) sideBySide() {
	c.each(Repeatability{}, func(f reading, _ Precision) Change {
		return sideBySide(f.whole(c.Before.Reading), f.whole(c.After.Reading))
	})
}

// ByFigures reports whether the figures stand side by side only, because a result has no map of the valve.
func (c *Comparison) ByFigures() bool {
	return c.Compared && c.has(FiguresOnly)
}

func (c *Comparison) has(code reason.Code) bool {
	return slices.ContainsFunc(c.Reasons, func(r reason.Reason) bool { return r.Code == code })
}
