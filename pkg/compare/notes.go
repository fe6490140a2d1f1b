package compare

import (
	"fmt"
	"slices"
	"strings"

	"valvegrade/pkg/inspection"
)

// note tells what is odd about the two inspections, and what stands behind the comparisons of their valves.
func (e *Engine) note() {
	if e.Forced {
		e.Notes = append(e.Notes, fmt.Sprintf("the vehicles are named %q and %q: compared because it was asked for",
			e.Before.Vehicle, e.After.Vehicle))
	}
	e.Notes = append(e.Notes, slices.Concat(e.Before.Assumed, e.After.Assumed)...)
	backwards := e.Before.Odometer.In(inspection.Miles)-e.After.Odometer.In(inspection.Miles) >= inspection.SameReading
	dated := e.Before.Dated() && e.After.Dated()
	earlier := backwards || dated && e.After.Date.Before(e.Before.Date)
	switch {
	case earlier:
		e.Notes = append(e.Notes,
			"the second inspection is the earlier one by its date or odometer: give the earlier one first")
	case dated && e.After.Date.Equal(e.Before.Date) && e.Before.Stage == inspection.After && e.After.Stage == inspection.Before:
		e.Notes = append(e.Notes, "the first inspection is the one after cleaning, the second the one before: "+
			"give the one before cleaning first")
	}
	e.Notes = append(e.Notes, e.valveNotes()...)
}

// valveNotes are the cautions of the valves that were compared, each told once with the valves that it is about.
func (e *Engine) valveNotes() []string {
	var order []string
	places := map[string][]string{}
	compared := 0
	for _, c := range e.Cylinders {
		for _, v := range c.Valves {
			if !v.Compared {
				continue
			}
			compared++
			for _, r := range v.Reasons {
				if places[r.Advice] == nil {
					order = append(order, r.Advice)
				}
				places[r.Advice] = append(places[r.Advice], fmt.Sprintf("cylinder %d valve %d", c.Number, v.Number))
			}
		}
	}
	notes := make([]string, len(order))
	for i, advice := range order {
		notes[i] = strings.Join(places[advice], ", ") + ": " + advice
		if n := len(places[advice]); n == compared && n > 1 {
			notes[i] = "all valves: " + advice
		}
	}
	return notes
}
