package trend

import (
	_ "embed"
	"encoding/json"
	"time"

	"valvegrade/pkg/inspection"
	"valvegrade/pkg/measure"
)

// SchemaVersion is the version of the written form.
const SchemaVersion = 1

// Schema is the JSON Schema (draft 2020-12) of what Trend.MarshalJSON writes.
//
//go:embed schema.json
var Schema []byte

type trendRecord struct {
	Schema  int             `json:"schema"`
	Vehicle string          `json:"vehicle"`
	Unit    inspection.Unit `json:"odometer_unit"`
	Per     int             `json:"growth_per"`
	Series  []seriesRecord  `json:"series"`
	Notes   []string        `json:"notes"`
}

type seriesRecord struct {
	Kind     Kind   `json:"kind"`
	Name     string `json:"name"`
	Cylinder *int   `json:"cylinder"`
	Valve    *int   `json:"valve"`
	// Without are the valves that do not count in it.
	Without []inspection.Place `json:"without,omitempty"`
	Lines   []lineRecord       `json:"lines"`
}

type lineRecord struct {
	Readings []readingRecord `json:"readings"`
	Growth   *growthRecord   `json:"growth"`
	Forecast *forecastRecord `json:"forecast"`
	Missing  *string         `json:"missing"`
}

type readingRecord struct {
	Odometer measure.Number   `json:"odometer"`
	Date     string           `json:"date"`
	Stage    inspection.Stage `json:"stage"`
	measure.WrittenIndex
	Inspections int `json:"inspections"`
}

type growthRecord struct {
	Method  Method         `json:"method"`
	Value   measure.Number `json:"points"`
	Low     measure.Number `json:"points_low"`
	High    measure.Number `json:"points_high"`
	Verdict Verdict        `json:"verdict"`
}

type forecastRecord struct {
	Estimate bool           `json:"estimate"` // always true: a reader of one line must see it
	Grade    int            `json:"grade"`
	Index    float64        `json:"index"`
	Odometer measure.Number `json:"odometer"`
	Earliest measure.Number `json:"odometer_earliest"`
	Latest   measure.Number `json:"odometer_latest"`
}

// MarshalJSON writes the document that Schema describes. What is not determined is null.
func (t *Trend) MarshalJSON() ([]byte, error) {
	r := trendRecord{
		Schema:  SchemaVersion,
		Vehicle: t.Vehicle,
		Unit:    t.Unit,
		Per:     Per,
		Notes:   append([]string{}, t.Notes...),
	}
	for _, s := range t.Series {
		r.Series = append(r.Series, s.record())
	}
	return json.Marshal(r)
}

func (s Series) record() seriesRecord {
	r := seriesRecord{Kind: s.Kind, Name: s.Name(), Without: s.Without, Lines: []lineRecord{}}
	if s.Cylinder > 0 {
		r.Cylinder = &s.Cylinder
	}
	if s.Valve > 0 {
		r.Valve = &s.Valve
	}
	for _, l := range s.Lines {
		r.Lines = append(r.Lines, l.record())
	}
	return r
}

// whole writes odometer readings and forecasts, in whole units.
func whole(v float64) measure.Number { return measure.Rounded(v, 0) }

// asWritten is an index as it is written.
func asWritten(index measure.Figure) measure.Figure {
	return index.Write(measure.PointDecimals).Figure()
}

func (l Line) record() lineRecord {
	var r lineRecord
	for _, reading := range l.Readings {
		r.Readings = append(r.Readings, readingRecord{
			whole(reading.Odometer), reading.Date.Format(time.DateOnly), reading.Stage,
			measure.WriteIndex(reading.Index), reading.Inspections,
		})
	}
	if g := l.Growth; g != nil {
		w := g.Write(measure.PointDecimals)
		r.Growth = &growthRecord{g.Method, w.Value, w.Low, w.High, g.Verdict}
	}
	if f := l.Forecast; f != nil {
		at := f.Odometer.Write(0)
		r.Forecast = &forecastRecord{true, f.Grade, f.Index, at.Value, at.Low, at.High}
	}
	if l.Missing != "" {
		r.Missing = &l.Missing
	}
	return r
}
