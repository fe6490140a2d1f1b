package engine

import (
	"fmt"
	"slices"
	"strings"
	"time"
)

// noteValves tells what is odd about the valves of a cylinder.
func (e *Engine) noteValves(c Cylinder) {
	for _, v := range c.Valves {
		switch {
		case !e.Inspection.HeardOf(c.Number, v.Number):
		case len(v.Shots) == 0 && c.Worst == 0:
			e.note("%s has no photo", v.name())
		case len(v.Shots) == 0:
			e.note("%s has no photo: its cylinder is graded without it", v.name())
		case v.leftOut():
			e.note("%s has no photo that counts: all were left out", v.name())
		case v.Used == 0:
			e.note("%s has no photo that could be judged: %s", v.name(), strings.Join(v.refusals(), ", "))
		case v.Apart:
			e.note("%s reads differently in its photos: check that they show this valve in one state", v.name())
		}
	}
}

// noteMore tells which photos show more valves than they are listed for.
func (e *Engine) noteMore(shots []Shot) {
	places := map[string]int{}
	for _, s := range shots {
		places[s.File]++
	}
	var more []string
	for _, s := range shots {
		if name := fmt.Sprintf("%q", s.File); s.ValvesInPhoto > places[s.File] && !slices.Contains(more, name) {
			more = append(more, name)
		}
	}
	if len(more) == 0 {
		return
	}
	rest := ""
	if n := len(more) - mostNamed; n > 0 {
		more, rest = more[:mostNamed], fmt.Sprintf(" and %d more", n)
	}
	e.note(
		"more valves in view than listed, of which the largest count: %s%s; to count all of a cylinder, list them from left to right, such as valves: [1, 2]",
		strings.Join(more, ", "),
		rest,
	)
}

// mostNamed is how many photos are named in one note.
const mostNamed = 3

// noteRepeated tells which photos are one picture under several names, those aside that somebody left out.
func (e *Engine) noteRepeated(shots []Shot) {
	first := map[string]Shot{}
	for _, s := range shots {
		if s.SHA256 == "" || s.LeftOut != nil {
			continue
		}
		earlier, known := first[s.SHA256]
		switch {
		case !known:
			first[s.SHA256] = s
		case earlier.File == s.File: // listed for several valves
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
	if !e.Inspection.Dated() {
		return
	}
	var apart []Shot
	photos := 0
	for _, s := range shots {
		if s.FromLeft > 1 { // a photo that was looked at before
			continue
		}
		photos++
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
		len(apart), photos)
}

func (e *Engine) note(format string, args ...any) {
	e.Notes = append(e.Notes, fmt.Sprintf(format, args...))
}
