package trend

import (
	"valvegrade/pkg/engine"
	"valvegrade/pkg/grade"
	"valvegrade/pkg/inspection"
	"valvegrade/pkg/measure"
)

// takenReading is a reading with the news whether the metal was just cleaned.
type takenReading struct {
	Reading
	cleaned bool
}

// cut divides the readings at cleanings, drops those that were not measured, and combines those of one odometer reading
// within a line.
func (t *Trend) cut(name string, readings []takenReading) [][]Reading {
	var runs [][]Reading
	var line []Reading
	for i, r := range readings {
		if line != nil && t.cleanedBetween(readings[i-1], r) {
			runs, line = append(runs, line), nil
		}
		if !r.Index.Known() {
			continue
		}
		last := len(line) - 1
		if last >= 0 && r.Odometer-line[last].Odometer < inspection.SameReading {
			line[last] = t.merge(name, line[last], r.Reading)
			continue
		}
		line = append(line, r.Reading)
	}
	if line != nil {
		runs = append(runs, line)
	}
	return runs
}

// cleanedBetween reports whether a reading starts a new line: it shows clean metal for the first time, or the one
// before was made before a cleaning that has passed since.
func (t *Trend) cleanedBetween(before, now takenReading) bool {
	if now.cleaned {
		return !before.cleaned || now.Odometer-before.Odometer >= inspection.SameReading
	}
	if before.Stage == inspection.Before && now.Stage != inspection.After &&
		now.Odometer-before.Odometer >= inspection.SameReading {
		t.note(
			"the inspection at %s was made before a cleaning: the reading at %s starts a new line, though no inspection shows the engine just cleaned",
			t.at(before.Reading),
			t.at(now.Reading),
		)
		return true
	}
	return false
}

// at tells where on the odometer a reading was taken.
func (t *Trend) at(r Reading) inspection.Odometer {
	return inspection.Odometer{Value: r.Odometer, Unit: t.Unit}
}

// merge combines two inspections at one odometer reading as two photos of one valve are combined, with weights by the
// number of inspections in each.
func (t *Trend) merge(name string, a, b Reading) Reading {
	n := float64(a.Inspections + b.Inspections)
	index := engine.MeanOf(
		[]measure.Figure{a.Index, b.Index}, []float64{float64(a.Inspections) / n, float64(b.Inspections) / n},
	).Figure
	at := t.at(a)
	first, second := grade.IndexText(a.Index.Value), grade.IndexText(b.Index.Value)
	switch {
	case a.Index.Low > b.Index.High && b.Stage == inspection.After:
		t.note("%s reads %s, then %s in two inspections at %s: they were combined, but contradict each other; "+
			"if it was cleaned, too, name its method", name, first, second, at)
	case a.Index.Low > b.Index.High:
		t.note("%s reads %s, then %s in two inspections at %s: they were combined, but contradict each other; "+
			"after a cleaning the second is of stage: after", name, first, second, at)
	case b.Index.Low > a.Index.High:
		t.note("%s reads %s and %s in two inspections at %s: they were combined, but contradict each other",
			name, first, second, at)
	default:
		t.note("inspections at %s were combined", at)
	}
	return Reading{
		Odometer:    a.Odometer,
		Date:        b.Date,
		Stage:       b.Stage,
		Index:       asWritten(index),
		Inspections: a.Inspections + b.Inspections,
	}
}
