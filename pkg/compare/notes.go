package compare

import (
	"errors"
	"fmt"
	"slices"

	"valvegrade/pkg/engine"
	"valvegrade/pkg/inspection"
	"valvegrade/pkg/reason"
)

// note tells what is odd about the two inspections, and what stands behind the comparisons of their valves.
func (e *Engine) note() {
	if e.Forced {
		e.Notes = append(e.Notes, fmt.Sprintf("the vehicles are named %q and %q: compared because it was asked for",
			e.Before.Vehicle, e.After.Vehicle))
	}
	e.Notes = append(e.Notes, slices.Concat(e.Before.Assumed, e.After.Assumed)...)
	if wrong := Backwards(e.Before, e.After); wrong != "" {
		e.Notes = append(e.Notes, wrong)
	}
	if e.uncleaned() {
		e.Notes = append(e.Notes,
			"the deposit fell although no cleaning is on record: check the photos, or give the later inspection stage: after")
	}
	e.Notes = append(e.Notes, e.Unexplained()...)
	e.Notes = append(e.Notes, e.valveNotes(func(code reason.Code) bool { return !byHand(code) })...)
	if e.lacksPhotos() {
		e.Notes = append(e.Notes, table.Of(NoPhoto).Advice)
	}
}

// lacksPhotos reports whether a valve was not compared for want of a photo.
func (e *Engine) lacksPhotos() bool {
	for n := range e.Cylinders {
		for _, v := range e.Cylinders[n].Heard() {
			if !v.Compared && v.has(NoPhoto) {
				return true
			}
		}
	}
	return false
}

// uncleaned reports whether the deposit fell beyond doubt though neither inspection speaks of a cleaning: a stage is easily
// forgotten, and deposit does not go away by itself.
func (e *Engine) uncleaned() bool {
	return e.Changes.Verdict() == Changed && e.Leading().Difference.Value < 0 &&
		!e.Cleaned() && e.Before.Stage != inspection.Before
}

// Unexplained are sentences on cylinders that were left alone and have changed beyond doubt: no cleaning explains that.
func (e *Engine) Unexplained() []string {
	var sentences []string
	for _, c := range e.Cylinders {
		if c.LeftAlone && c.Verdict == Changed {
			sentences = append(sentences, fmt.Sprintf("cylinder %d was not cleaned and differs all the same between the two inspections: "+
				"the photos may show different places, or cylinders were mixed up", c.Number))
		}
	}
	return sentences
}

// ErrOrder is returned for two inspections that stand in the wrong order.
var ErrOrder = errors.New("the two inspections are in the wrong order")

// InOrder returns ErrOrder, with what speaks for it, for two inspections of one vehicle of which the second is the earlier
// one. Those before and after a cleaning are in order by their stages, whatever date and odometer say.
func InOrder(before, after *inspection.Inspection) error {
	wrong := Backwards(before, after)
	if wrong == "" || Cleaned(before, after) || !inspection.SameVehicle(before, after) {
		return nil
	}
	return fmt.Errorf("%w: %s", ErrOrder, wrong)
}

// Backwards says in a sentence that the second of two inspections is the earlier one, by odometer or date, or on one
// day by its stage; "" where nothing speaks against their order.
func Backwards(before, after *inspection.Inspection) string {
	back := before.Odometer.In(inspection.Miles)-after.Odometer.In(inspection.Miles) >= inspection.SameReading // false for NaN
	dated := before.Dated() && after.Dated()
	switch {
	case back, dated && after.Date.Before(before.Date):
		return "the second inspection is the earlier one by its date or odometer: correct these, or give the earlier one first"
	case dated && after.Date.Equal(before.Date) && before.Stage == inspection.After && after.Stage == inspection.Before:
		return "the first inspection is the one after cleaning, the second the one before: give the one before cleaning first"
	}
	return ""
}

// ByHand are sentences on what people corrected in the photos that were compared.
func (e *Engine) ByHand() []string { return e.valveNotes(byHand) }

func byHand(code reason.Code) bool {
	return code == OutlineByHand || code == PaintedByHand || code == PaintIgnored
}

// valveNotes are the wanted cautions of the valves that were compared, each told once with the valves that it is about.
func (e *Engine) valveNotes(wanted func(reason.Code) bool) []string {
	var order []string
	places := map[string][]string{}
	compared, all := 0, 0
	for n := range e.Cylinders {
		c := &e.Cylinders[n]
		all += len(c.Heard())
		for _, v := range c.Valves {
			if !v.Compared {
				continue
			}
			compared++
			for _, r := range v.Reasons {
				if !wanted(r.Code) {
					continue
				}
				if places[r.Advice] == nil {
					order = append(order, r.Advice)
				}
				places[r.Advice] = append(places[r.Advice], fmt.Sprintf("cylinder %d valve %d", c.Number, v.Number))
			}
		}
	}
	notes := make([]string, len(order))
	for i, advice := range order {
		notes[i] = engine.Which(places[advice], compared, all, "all valves that were compared") + ": " + advice
	}
	return notes
}
