package trend

import (
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"time"

	"valvegrade/pkg/inspection"
)

// ErrDocument is returned for a text that is no trend.
var ErrDocument = errors.New("this is no trend that the program wrote")

// Read reads the written form by what the trend was drawn from: growth, forecasts and names are found anew from the readings,
// so that writing it again shows whether they follow from these. The readings themselves are taken at their word.
func Read(text []byte) (*Trend, error) {
	var r trendRecord
	if err := json.Unmarshal(text, &r); err != nil {
		return nil, fmt.Errorf("%w: %w", ErrDocument, err)
	}
	if !slices.Contains([]inspection.Unit{inspection.Miles, inspection.Kilometres}, r.Unit) {
		return nil, fmt.Errorf("%w: odometer unit %q", ErrDocument, r.Unit)
	}
	t := &Trend{Vehicle: r.Vehicle, Unit: r.Unit, Notes: r.Notes}
	for _, written := range r.Series {
		s, err := written.series()
		if err != nil {
			return nil, fmt.Errorf("%w: %w", ErrDocument, err)
		}
		t.Series = append(t.Series, s)
	}
	return t, nil
}

func (r seriesRecord) series() (Series, error) {
	s := Series{Kind: r.Kind, Without: r.Without}
	for _, number := range []struct {
		written *int
		of      *int
		most    int
	}{{r.Cylinder, &s.Cylinder, inspection.MostCylinders}, {r.Valve, &s.Valve, inspection.MostValves}} {
		if number.written == nil {
			continue
		}
		if *number.of = *number.written; *number.of < 1 || *number.of > number.most {
			return s, fmt.Errorf("%q: no engine has a cylinder or valve %d", r.Name, *number.of)
		}
	}
	if ofValve := s.Kind == OfValve; (ofValve || s.Kind == OfCylinder) != (s.Cylinder > 0) || ofValve != (s.Valve > 0) {
		return s, fmt.Errorf("%q is of no cylinder or valve that its kind asks for", r.Name)
	}
	for n, l := range r.Lines {
		readings, err := l.readings()
		if err != nil {
			return s, fmt.Errorf("%q: %w", r.Name, err)
		}
		s.Lines = append(s.Lines, fit(readings, n == len(r.Lines)-1))
	}
	return s, nil
}

// readings are those of a line, which ascend.
func (l lineRecord) readings() ([]Reading, error) {
	var readings []Reading
	for n, r := range l.Readings {
		day, err := time.Parse(time.DateOnly, r.Date)
		if err != nil {
			return nil, fmt.Errorf("%q is no day", r.Date)
		}
		at, index := r.Odometer.Value(), r.IndexFigure()
		switch {
		case !(at >= 0 && at <= inspection.MostDistance) || n > 0 && at <= readings[n-1].Odometer:
			return nil, fmt.Errorf("odometer %s does not follow the reading before", r.Odometer)
		case !(0 <= index.Low && index.Low <= index.Value && index.Value <= index.High && index.High <= 100):
			return nil, fmt.Errorf("index %s (%s to %s) is none", r.Index, r.IndexLow, r.IndexHigh)
		}
		readings = append(readings, Reading{Odometer: at, Date: day, Stage: r.Stage, Index: index, Inspections: r.Inspections})
	}
	if len(readings) == 0 {
		return nil, errors.New("a line without readings")
	}
	return readings, nil
}

// At is the reading that an inspection is told by, alone or combined with others; nil where the series has none, because it
// was left out.
func (t *Trend) At(s Series, i *inspection.Inspection) *Reading {
	at := whole(i.Odometer.In(t.Unit)).Value()
	for _, l := range s.Lines {
		for n, r := range l.Readings {
			if r.Date.Equal(i.Date) && r.Stage == i.Stage && r.Odometer == at {
				return &l.Readings[n]
			}
		}
	}
	return nil
}
