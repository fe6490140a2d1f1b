package compare

import (
	"errors"
	"fmt"

	"github.com/sourcegraph/conc/iter"
	"gonum.org/v1/gonum/stat/distuv"

	"valvegrade/pkg/engine"
	"valvegrade/pkg/inspection"
	"valvegrade/pkg/measure"
)

// ErrOtherEngine is returned when two inspections cannot be of one engine.
var ErrOtherEngine = errors.New("the two inspections are not of one engine")

// Valve is one valve of an engine, compared.
type Valve struct {
	Number int
	*Comparison
	// Unheard is true for a valve that nobody is known to have photographed, or missed: see inspection.Inspection.HeardOf.
	Unheard bool
}

// Cylinder is one cylinder, compared.
type Cylinder struct {
	Number int
	// Method is how it was cleaned, in the words of the later inspection; "" when not said.
	Method string
	// LeftAlone is true where a cleaning lies between the two inspections and the later one says that this cylinder was not
	// cleaned (inspection.LeftAlone): it does not count for the engine, and no share of its deposit was removed.
	LeftAlone bool
	Valves    []Valve
	// Changes are the means over the valves that were compared, those of which something is claimed if there are any; NaN
	// when none was.
	Changes
	// Verdict is that of the means.
	Verdict Verdict
}

// Engine is two inspections of one engine, compared.
type Engine struct {
	Before, After *inspection.Inspection
	Cylinders     []Cylinder
	// Changes are the means over all valves but those of cylinders that were left alone, as those of a cylinder: what every
	// valve gained or lost a little adds up.
	Changes
	// Verdict is Changed when the means have changed, or a cylinder by more than chance makes one of so many
	// (Bonferroni); "" when none was compared.
	Verdict Verdict
	// Forced is true when the inspections name different vehicles and were compared all the same.
	Forced bool
	// Notes are sentences on what is odd about the two inspections. What people corrected stands in ByHand.
	Notes []string
}

// OneEngine returns ErrOtherEngine, with what differs, for inspections of different layouts or, unless forced, of
// different vehicles.
func OneEngine(before, after *inspection.Inspection, o Options) error {
	a, b := before.Engine, after.Engine
	switch {
	case a != b:
		return fmt.Errorf("%w: cylinders and valves of each are %d and %d, then %d and %d",
			ErrOtherEngine, a.Cylinders, a.Valves, b.Cylinders, b.Valves)
	case !inspection.SameVehicle(before, after) && !o.Force:
		return fmt.Errorf("%w: vehicle %q and %q", ErrOtherEngine, before.Vehicle, after.Vehicle)
	}
	return nil
}

// Inspections compares two inspections of one engine valve by valve, the earlier one first. Of several photos of a
// valve the pair that has most in common is taken, among more than 25 pairs of those that show most of it. The error is
// that of OneEngine or InOrder, or says that results and photos do not belong together.
func Inspections(before, after *engine.Graded, o Options) (*Engine, error) {
	a, b := before.Engine.Inspection, after.Engine.Inspection
	if len(before.Photos) != len(a.Photos) || len(after.Photos) != len(b.Photos) {
		return nil, fmt.Errorf("compare: %d and %d results of %d and %d photos",
			len(before.Photos), len(after.Photos), len(a.Photos), len(b.Photos))
	}
	if err := errors.Join(OneEngine(a, b, o), InOrder(a, b)); err != nil {
		return nil, err
	}
	e := &Engine{Before: a, After: b, Forced: !inspection.SameVehicle(a, b)}
	// Several at a time: to lay two photos on each other takes longer than scoring one.
	valves := make([]Valve, a.Engine.Cylinders*a.Engine.Valves)
	iter.ForEachIdx(valves, func(k int, valve *Valve) {
		n, v := k/a.Engine.Valves+1, k%a.Engine.Valves+1
		*valve = Valve{v, closest(viewsOf(before, n, v), viewsOf(after, n, v), o), !a.HeardOf(n, v)}
	})
	for n := 1; n <= a.Engine.Cylinders; n++ {
		c := Cylinder{Number: n, Method: b.Methods[n], LeftAlone: Cleaned(a, b) && b.LeftAlone(n)}
		c.Valves, valves = valves[:a.Engine.Valves:a.Engine.Valves], valves[a.Engine.Valves:]
		c.conclude()
		if !Cleaned(a, b) {
			c.uncleaned()
			for _, v := range c.Valves {
				v.uncleaned()
			}
		}
		e.Cylinders = append(e.Cylinders, c)
	}
	e.conclude()
	e.note()
	return e, nil
}

// concluding are the comparisons that figures of several valves are of: those that were made, and those of which nothing
// is claimed only where there is no other.
func concluding(valves []Valve) []Valve {
	var claimed, unclaimed []Valve
	for _, v := range valves {
		switch {
		case !v.Compared:
		case v.Verdict == NoClaim:
			unclaimed = append(unclaimed, v)
		default:
			claimed = append(claimed, v)
		}
	}
	if claimed == nil {
		return unclaimed
	}
	return claimed
}

// conclude takes the means over the valves, all alike: each valve is half of what a cylinder breathes through.
func (c *Cylinder) conclude() {
	c.Changes = meanChanges(concluding(c.Valves))
	c.Verdict = c.Changes.Verdict()
	if !c.LeftAlone {
		return
	}
	c.leaveAlone()
	for _, v := range c.Valves {
		v.leaveAlone()
	}
}

// Pooled are the changes of the mean of several valves of one engine, as those of an Engine: NaN of none.
func Pooled(comparisons []*Comparison) Changes {
	valves := make([]Valve, len(comparisons))
	for n, c := range comparisons {
		valves[n] = Valve{Number: n + 1, Comparison: c}
	}
	return meanChanges(concluding(valves))
}

// meanChanges are those of the mean of several valves.
func meanChanges(valves []Valve) Changes {
	of := func(change func(Changes) Change) Change {
		var before, after []measure.Figure
		var doubts []doubt
		unclaimed := false
		for _, v := range valves {
			c := change(v.Changes)
			before, after, doubts = append(before, c.Before), append(after, c.After), append(doubts, c.doubt)
			unclaimed = c.unclaimed
		}
		switch {
		case len(valves) == 0:
			return unknownChange
		case unclaimed:
			return sideBySide(mean(before), mean(after))
		}
		return changeOf(mean(before), mean(after), meanOf(doubts))
	}
	return Changes{
		of(func(c Changes) Change { return c.Index }),
		of(func(c Changes) Change { return c.Dark }),
		of(func(c Changes) Change { return c.Coverage }),
	}
}

// ByFigures reports whether every valve that was compared was compared by its figures, see Comparison.ByFigures.
func (e *Engine) ByFigures() bool {
	compared := 0
	for _, c := range e.Cylinders {
		for _, v := range c.Valves {
			if v.Compared && !v.ByFigures() {
				return false
			}
			if v.Compared {
				compared++
			}
		}
	}
	return compared > 0
}

// counting are the cylinders that count for the engine: all but those that were left alone.
func (e *Engine) counting() []*Cylinder {
	var counting []*Cylinder
	for n := range e.Cylinders {
		if c := &e.Cylinders[n]; !c.LeftAlone {
			counting = append(counting, c)
		}
	}
	return counting
}

// Compared says of how many valves the figures of the engine are, and how many count: of photos without a form those that
// either inspection has a photo of.
func (e *Engine) Compared() (compared, of int) {
	for _, c := range e.counting() {
		of += len(c.Heard())
	}
	return len(concluding(e.valves())), of
}

// Heard are the valves that the cylinder is known to have.
func (c *Cylinder) Heard() []Valve {
	var heard []Valve
	for _, v := range c.Valves {
		if !v.Unheard {
			heard = append(heard, v)
		}
	}
	return heard
}

// valves are all that count.
func (e *Engine) valves() []Valve {
	var valves []Valve
	for _, c := range e.counting() {
		valves = append(valves, c.Valves...)
	}
	return valves
}

// LeftAlone are the numbers of the cylinders that were left alone.
func (e *Engine) LeftAlone() []int {
	var numbers []int
	for _, c := range e.Cylinders {
		if c.LeftAlone {
			numbers = append(numbers, c.Number)
		}
	}
	return numbers
}

// conclude takes the means over all valves that count. With n cylinders one would pass the limit of a single one by chance
// n times as often, so that a cylinder alone must pass that of 5 % divided by n (Dunn, Journal of the American
// Statistical Association 56 (1961) 52).
func (e *Engine) conclude() {
	e.Changes = meanChanges(concluding(e.valves()))
	e.Verdict = e.Changes.Verdict()
	if e.Verdict == NotDistinguishable && len(e.Standing()) > 0 {
		e.Verdict = Changed
	}
}

// Standing are the cylinders that count and changed by more than chance makes one of so many.
func (e *Engine) Standing() []*Cylinder {
	compared := 0
	for _, c := range e.counting() {
		if c.Verdict == Changed || c.Verdict == NotDistinguishable {
			compared++
		}
	}
	if compared == 0 {
		return nil
	}
	limit := distuv.UnitNormal.Quantile(1-0.025/float64(compared)) / measure.Normal975
	var standing []*Cylinder
	for _, c := range e.counting() {
		if c.Verdict == Changed && (c.Index.past(limit) || c.Dark.past(limit)) {
			standing = append(standing, c)
		}
	}
	return standing
}
