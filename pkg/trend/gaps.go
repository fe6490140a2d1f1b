package trend

import (
	"slices"

	"valvegrade/pkg/engine"
	"valvegrade/pkg/inspection"
	"valvegrade/pkg/measure"
)

// place is a valve of the engine.
type place = inspection.Place

// measuredValves returns every valve that some inspection measured.
func measuredValves(visits []visit) map[place]bool {
	measured := map[place]bool{}
	for _, v := range visits {
		for _, c := range v.Cylinders {
			for _, valve := range c.Valves {
				if valve.Index.Known() {
					measured[place{Cylinder: c.Number, Valve: valve.Number}] = true
				}
			}
		}
	}
	return measured
}

// gaps returns the valves that count in the series, were measured in some inspection, and were not in this one: the worst
// of fewer valves is no figure to compare with the worst of all.
func (s Series) gaps(v visit, watched map[place]bool) []place {
	if s.Kind == OfValve {
		return nil
	}
	var missing []place
	for _, c := range v.Cylinders {
		if s.Cylinder != 0 && s.Cylinder != c.Number {
			continue
		}
		for _, valve := range c.Valves {
			if here := (place{Cylinder: c.Number, Valve: valve.Number}); watched[here] && !valve.Index.Known() {
				missing = append(missing, here)
			}
		}
	}
	return missing
}

// fewestForGrowth is how many readings growth needs.
const fewestForGrowth = 2

// runs returns the readings of a series from cleaning to cleaning. Inspections that lack a valve are left out of it; where
// too few remain since the last cleaning, the valve is left out of all of them instead, if its cylinder has another that
// every one of them measured.
func (t *Trend) runs(s *Series, visits []visit, watched map[place]bool) [][]Reading {
	before := slices.Clone(t.Notes)
	runs := t.whole(*s, visits, watched)
	if lastOf(runs) >= fewestForGrowth {
		return runs
	}
	noted := t.Notes
	t.Notes = before
	if gone, fewer := t.without(*s, visits, watched); lastOf(fewer) > lastOf(runs) {
		s.Without = gone
		return fewer
	}
	t.Notes = noted
	return runs
}

// lastOf is how many readings there are since the last cleaning.
func lastOf(runs [][]Reading) int {
	if len(runs) == 0 {
		return 0
	}
	return len(runs[len(runs)-1])
}

// whole are the runs of the inspections that lack no valve of the series.
func (t *Trend) whole(s Series, visits []visit, watched map[place]bool) [][]Reading {
	return t.cut(s.Name(), s.readings(visits, func(v visit) measure.Figure {
		index, missing := s.index(v.Engine), s.gaps(v, watched)
		switch {
		case len(missing) == 0:
			return index
		case index.Known():
			t.note("%s at %s was left out: cylinder %d valve %d was not measured, so the figure does not compare",
				s.Name(), v, missing[0].Cylinder, missing[0].Valve)
		default:
			t.note("%s at %s was left out: none of its valves was measured", s.Name(), v)
		}
		return measure.Unmeasured()
	}))
}

// without are the valves that some inspection lacks which measured any of the series, and the runs of the others; none where
// a cylinder keeps none of its valves.
func (t *Trend) without(s Series, visits []visit, watched map[place]bool) (gone []place, runs [][]Reading) {
	lacking := map[place]visit{}
	for _, v := range visits {
		if !s.index(v.Engine).Known() {
			continue
		}
		for _, p := range s.gaps(v, watched) {
			if !slices.Contains(gone, p) {
				gone = append(gone, p)
			}
			lacking[p] = v
		}
	}
	kept := map[int]bool{}
	for p := range watched {
		if _, lacks := lacking[p]; !lacks {
			kept[p.Cylinder] = true
		}
	}
	for _, p := range gone {
		if !kept[p.Cylinder] {
			return nil, nil
		}
		t.note("%s is told without cylinder %d valve %d, which was not measured at %s: else too few inspections compare",
			s.Name(), p.Cylinder, p.Valve, lacking[p])
	}
	s.Without = gone
	return gone, t.cut(s.Name(), s.readings(visits, func(v visit) measure.Figure { return s.Of(v.Engine) }))
}

// Of is the index that an inspection has in the series, as it is written, by the valves that count in it; unmeasured where
// the engine has no such cylinder or valve.
func (s Series) Of(e *engine.Engine) measure.Figure {
	if layout := e.Inspection.Engine; s.Cylinder > layout.Cylinders || s.Valve > layout.Valves {
		return measure.Unmeasured()
	}
	if len(s.Without) > 0 {
		e = e.Of(func(cylinder, valve int) bool {
			return !slices.Contains(s.Without, place{Cylinder: cylinder, Valve: valve})
		})
	}
	return asWritten(s.index(e))
}

// readings are those of all visits, as they are written: whoever has a document finds the same growth in it. Visits in which
// the series was not measured count, too: a cleaning that they tell of has passed.
func (s Series) readings(visits []visit, index func(v visit) measure.Figure) []takenReading {
	var readings []takenReading
	for _, v := range visits {
		readings = append(readings, takenReading{
			Reading{
				Odometer: whole(v.odometer).Value(), Date: v.Inspection.Date, Stage: v.Inspection.Stage,
				Index: asWritten(index(v)), Inspections: 1,
			},
			s.cleaned(v),
		})
	}
	return readings
}
