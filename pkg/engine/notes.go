package engine

import (
	"fmt"
	"time"
)

// noteValves tells what is odd about the valves of a cylinder.
func (e *Engine) noteValves(c Cylinder) {
	for _, v := range c.Valves {
		switch {
		case len(v.Shots) == 0 && c.Worst == 0:
			e.note("%s has no photo", v.name())
		case len(v.Shots) == 0:
			e.note("%s has no photo: its cylinder is graded without it", v.name())
		case v.Used == 0:
			e.note("%s has no photo that could be judged: retake it", v.name())
		case v.Apart:
			e.note("%s reads differently in its photos: check that they show this valve in one state", v.name())
		}
	}
}

// noteRepeated tells which photos are one picture under several names.
func (e *Engine) noteRepeated(shots []Shot) {
	first := map[string]Shot{}
	for _, s := range shots {
		if s.SHA256 == "" {
			continue
		}
		earlier, known := first[s.SHA256]
		switch {
		case !known:
			first[s.SHA256] = s
		case earlier.Cylinder == s.Cylinder && earlier.Valve == s.Valve:
			e.note("%q is the same picture as %q and counts once", s.File, earlier.File)
		default:
			e.note("%q of cylinder %d valve %d is the same picture as %q of cylinder %d valve %d: one of them is wrong",
				s.File, s.Cylinder, s.Valve, earlier.File, earlier.Cylinder, earlier.Valve)
		}
	}
}

// noteDates tells when the camera's clock and the date of the inspection lie more than a day apart: the clock has no
// zone, and work may go on past midnight.
func (e *Engine) noteDates(shots []Shot) {
	var apart []Shot
	for _, s := range shots {
		if s.Taken == nil {
			continue
		}
		day := time.Date(s.Taken.Year(), s.Taken.Month(), s.Taken.Day(), 0, 0, 0, 0, time.UTC)
		if day.Sub(e.Inspection.Date).Abs() > 24*time.Hour {
			apart = append(apart, s)
		}
	}
	if len(apart) == 0 {
		return
	}
	e.note("the inspection is of %s, but by the camera's clock %q was taken on %s "+
		"(%d of %d photos lie more than a day apart): check both dates",
		e.Inspection.Date.Format(time.DateOnly), apart[0].File, apart[0].Taken.Format(time.DateOnly),
		len(apart), len(shots))
}

func (e *Engine) note(format string, args ...any) {
	e.Notes = append(e.Notes, fmt.Sprintf(format, args...))
}
