package trend

import (
	"fmt"
	"time"

	"valvegrade/pkg/engine"
	"valvegrade/pkg/inspection"
	"valvegrade/pkg/measure"
)

// Per is the distance that growth is given for, in miles or kilometres.
const Per = 10000

// Trend is the history of one engine.
type Trend struct {
	Vehicle string
	// Unit is that of every odometer value, and of growth: index points per 10 000 of it.
	Unit inspection.Unit
	// Series are the engine's worst cylinder, its median, each cylinder, and each valve, in this order.
	Series []Series
	// Inspections counts those that it was drawn from.
	Inspections int
	// Notes are sentences on what was converted, combined, assumed or left out.
	Notes []string
}

// Kind says whose index a series follows.
type Kind string

// The kinds of series.
const (
	EngineWorst  Kind = "engine-worst"
	EngineMedian Kind = "engine-median"
	OfCylinder   Kind = "cylinder"
	OfValve      Kind = "valve"
)

// Series is one index over the odometer. Cylinder and Valve are 0 where they do not apply.
type Series struct {
	Kind            Kind
	Cylinder, Valve int
	// Without are the valves that do not count in it, because some inspection did not measure them and too few would have
	// remained without that one.
	Without []inspection.Place
	// Lines run from cleaning to cleaning, in order; none when nothing was measured.
	Lines []Line
}

// Name is what the series is called in tables and charts.
func (s Series) Name() string {
	switch s.Kind {
	case EngineWorst:
		return "worst cylinder"
	case EngineMedian:
		return "median cylinder"
	case OfCylinder:
		return fmt.Sprintf("cylinder %d", s.Cylinder)
	default:
		return fmt.Sprintf("cylinder %d valve %d", s.Cylinder, s.Valve)
	}
}

// Line is what grew between two cleanings.
type Line struct {
	// Readings ascend by odometer.
	Readings []Reading
	// Growth is nil for a single reading. Forecast is nil when the data do not carry one, and Missing then says why.
	Growth   *Growth
	Forecast *Forecast
	Missing  string
}

// Reading is the index at one odometer reading.
type Reading struct {
	Odometer float64
	Date     time.Time // of the last inspection at this reading
	Stage    inspection.Stage
	Index    measure.Figure
	// Inspections counts those combined here.
	Inspections int
}

// Of draws the trend of one engine's inspections, given in any order, in the given unit, or in that of the last
// inspection when unit is "".
func Of(engines []*engine.Engine, unit inspection.Unit) (*Trend, error) {
	if len(engines) == 0 {
		return nil, ErrNothing
	}
	if unit == "" {
		last := engines[0].Inspection
		for _, e := range engines {
			if e.Inspection.Date.After(last.Date) {
				last = e.Inspection
			}
		}
		unit = last.Odometer.Unit
	}
	visits, err := inOrder(engines, unit)
	if err != nil {
		return nil, err
	}
	layout := visits[0].Inspection.Engine
	t := &Trend{Vehicle: visits[0].Inspection.Vehicle, Unit: unit, Inspections: len(visits), Notes: unitNotes(visits, unit)}
	watched := measuredValves(visits)
	t.add(Series{Kind: EngineWorst}, visits, watched)
	t.add(Series{Kind: EngineMedian}, visits, watched)
	for c := range layout.Cylinders {
		t.add(Series{Kind: OfCylinder, Cylinder: c + 1}, visits, watched)
	}
	for c := range layout.Cylinders {
		for v := range layout.Valves {
			t.add(Series{Kind: OfValve, Cylinder: c + 1, Valve: v + 1}, visits, watched)
		}
	}
	return t, nil
}

// add gathers the readings of a series and fits its lines.
func (t *Trend) add(s Series, visits []visit, watched map[place]bool) {
	runs := t.runs(&s, visits, watched)
	for i, run := range runs {
		s.Lines = append(s.Lines, fit(run, i == len(runs)-1))
	}
	t.Series = append(t.Series, s)
}

// note adds a sentence once.
func (t *Trend) note(format string, args ...any) {
	sentence := fmt.Sprintf(format, args...)
	for _, n := range t.Notes {
		if n == sentence {
			return
		}
	}
	t.Notes = append(t.Notes, sentence)
}

func (s Series) index(e *engine.Engine) measure.Figure {
	switch s.Kind {
	case EngineWorst:
		return e.Worst
	case EngineMedian:
		return e.Median
	case OfCylinder:
		return e.Cylinders[s.Cylinder-1].Index
	default:
		return e.Cylinders[s.Cylinder-1].Valves[s.Valve-1].Index
	}
}

// cleaned reports whether the series shows a just cleaned state: for the engine, when any cylinder was cleaned.
func (s Series) cleaned(v visit) bool {
	if s.Cylinder > 0 {
		return v.Inspection.Cleaned(s.Cylinder)
	}
	for c := range v.Inspection.Engine.Cylinders {
		if v.Inspection.Cleaned(c + 1) {
			return true
		}
	}
	return false
}
