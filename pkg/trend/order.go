package trend

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	"valvegrade/pkg/engine"
	"valvegrade/pkg/inspection"
)

// Why inspections cannot be put into one trend.
var (
	ErrNothing   = errors.New("no inspections")
	ErrVehicle   = errors.New("inspections of different vehicles")
	ErrLayout    = errors.New("inspections of different engines")
	ErrBackwards = errors.New("odometer runs backwards")
	ErrOpen      = errors.New("inspection without date or odometer reading")
)

// visit is an inspection at its odometer reading in the trend's unit.
type visit struct {
	*engine.Engine
	odometer float64
}

func (v visit) String() string {
	return fmt.Sprintf("%s on %s", v.Inspection.Odometer, v.Inspection.Date.Format(time.DateOnly))
}

// inOrder sorts the inspections by day, then odometer, then stage, and refuses what cannot be one history.
func inOrder(engines []*engine.Engine, unit inspection.Unit) ([]visit, error) {
	visits := make([]visit, len(engines))
	for i, e := range engines {
		visits[i] = visit{e, e.Inspection.Odometer.In(unit)}
	}
	slices.SortStableFunc(visits, func(a, b visit) int {
		return cmp.Or(
			a.Inspection.Date.Compare(b.Inspection.Date),
			compareOdometer(a, b),
			order(a.Inspection.Stage)-order(b.Inspection.Stage),
		)
	})
	first := visits[0].Inspection
	for i, v := range visits {
		if !v.Inspection.Dated() || !v.Inspection.Odometer.Known() {
			return nil, fmt.Errorf("%w of %q", ErrOpen, v.Inspection.Vehicle)
		}
		if !inspection.SameVehicle(v.Inspection, first) {
			return nil, fmt.Errorf("%w: %q and %q", ErrVehicle, first.Vehicle, v.Inspection.Vehicle)
		}
		if v.Inspection.Engine != first.Engine {
			return nil, fmt.Errorf("%w: cylinders and valves of each are %d and %d, then %d and %d", ErrLayout,
				first.Engine.Cylinders, first.Engine.Valves, v.Inspection.Engine.Cylinders, v.Inspection.Engine.Valves)
		}
		if i > 0 && v.odometer <= visits[i-1].odometer-inspection.SameReading {
			return nil, fmt.Errorf(
				"%w: %s, then %s: correct the day or the reading in %s",
				ErrBackwards,
				visits[i-1],
				v,
				inspection.File,
			)
		}
	}
	return visits, nil
}

func compareOdometer(a, b visit) int {
	if d := a.odometer - b.odometer; d < inspection.SameReading && d > -inspection.SameReading {
		return 0
	}
	return cmp.Compare(a.odometer, b.odometer)
}

// order puts the stages of one day and reading into the order in which they happen.
func order(s inspection.Stage) int {
	return slices.Index([]inspection.Stage{inspection.Routine, inspection.Before, inspection.After}, s)
}

// unitNotes says when readings were converted.
func unitNotes(visits []visit, unit inspection.Unit) []string {
	var converted []string
	for _, v := range visits {
		if v.Inspection.Odometer.Unit != unit {
			converted = append(converted, v.Inspection.Odometer.String())
		}
	}
	if len(converted) == 0 {
		return nil
	}
	return []string{
		fmt.Sprintf(
			"readings were converted to %s (1 mi = %v km): %s",
			unit,
			inspection.KilometresPerMile,
			strings.Join(converted, ", "),
		),
	}
}
