package trend

import (
	"slices"

	"valvegrade/pkg/measure"
)

// place is a valve of the engine.
type place struct{ cylinder, valve int }

// measuredValves returns every valve that some inspection measured.
func measuredValves(visits []visit) map[place]bool {
	measured := map[place]bool{}
	for _, v := range visits {
		for _, c := range v.Cylinders {
			for _, valve := range c.Valves {
				if valve.Index.Known() {
					measured[place{c.Number, valve.Number}] = true
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
			if here := (place{c.Number, valve.Number}); watched[here] && !valve.Index.Known() {
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
func (t *Trend) runs(s Series, visits []visit, watched map[place]bool) [][]Reading {
	before := slices.Clone(t.Notes)
	runs := t.whole(s, visits, watched)
	if lastOf(runs) >= fewestForGrowth {
		return runs
	}
	noted := t.Notes
	t.Notes = before
	if fewer := t.without(s, visits, watched); lastOf(fewer) > lastOf(runs) {
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
				s.Name(), v, missing[0].cylinder, missing[0].valve)
		default:
			t.note("%s at %s was left out: none of its valves was measured", s.Name(), v)
		}
		return measure.Unmeasured()
	}))
}

// without are the runs of the valves that no inspection lacks which measured any of the series; none where a cylinder keeps
// none of its valves.
func (t *Trend) without(s Series, visits []visit, watched map[place]bool) [][]Reading {
	lacking := map[place]visit{}
	var order []place
	for _, v := range visits {
		if !s.index(v.Engine).Known() {
			continue
		}
		for _, p := range s.gaps(v, watched) {
			if _, known := lacking[p]; !known {
				order = append(order, p)
			}
			lacking[p] = v
		}
	}
	kept := map[int]bool{}
	for p := range watched {
		if _, lacks := lacking[p]; !lacks {
			kept[p.cylinder] = true
		}
	}
	for _, p := range order {
		if !kept[p.cylinder] {
			return nil
		}
		t.note("%s is told without cylinder %d valve %d, which was not measured at %s: else too few inspections compare",
			s.Name(), p.cylinder, p.valve, lacking[p])
	}
	counts := func(cylinder, valve int) bool {
		_, lacks := lacking[place{cylinder, valve}]
		return !lacks
	}
	return t.cut(s.Name(), s.readings(visits, func(v visit) measure.Figure { return s.index(v.Engine.Of(counts)) }))
}

// readings are those of all visits. Visits in which the series was not measured count, too: a cleaning that they tell of has
// passed.
func (s Series) readings(visits []visit, index func(v visit) measure.Figure) []takenReading {
	var readings []takenReading
	for _, v := range visits {
		readings = append(readings, takenReading{
			Reading{Odometer: v.odometer, Date: v.Inspection.Date, Stage: v.Inspection.Stage, Index: index(v), Inspections: 1},
			s.cleaned(v),
		})
	}
	return readings
}
