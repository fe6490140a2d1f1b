package report

import (
	_ "embed"
	"encoding/json"
	"fmt"
	"io"
	"time"

	"valvegrade/internal/number"
	"valvegrade/pkg/compare"
	"valvegrade/pkg/inspection"
	"valvegrade/pkg/inspection/graded"
	"valvegrade/pkg/score"
	"valvegrade/pkg/trend"
)

// SchemaVersion is the version of the written form. It changes only when a key is removed or changes its meaning.
const SchemaVersion = 1

// Schema is the JSON Schema (draft 2020-12) of what WriteJSON writes. The inspections in it are described by inspection.Schema and
// score.Schema, the comparison by compare.Schema, the trend by trend.Schema.
//
//go:embed schema.json
var Schema []byte

// Document is the JSON form of a report.
type Document struct {
	Schema int `json:"schema"`
	// Version is the program that wrote the report.
	Version   string           `json:"version"`
	Vehicle   string           `json:"vehicle"`
	Summary   string           `json:"summary"`
	Shop      shopRecord       `json:"shop"`
	Job       jobRecord        `json:"job"`
	Unit      inspection.Unit  `json:"odometer_unit"`
	Cylinders []cylinderRecord `json:"cylinders"`
	// Valves are one object per valve.
	Valves []valveRecord `json:"valves"`
	// Inspections are one, or before and after, as scoring them writes them.
	Inspections []graded.Document `json:"inspections"`
	// Comparison and Trend are null when there is none.
	Comparison *compare.Engine `json:"comparison"`
	Trend      *trend.Trend    `json:"trend"`
	Notes      []string        `json:"notes"`
	// Cautions belong with every grade.
	Cautions []string `json:"cautions"`
}

type shopRecord struct {
	Name    string   `json:"name"`
	Address []string `json:"address"`
	Phone   string   `json:"phone"`
	Email   string   `json:"email"`
}

type jobRecord struct {
	Number     string `json:"number"`
	Date       string `json:"date"`
	Customer   string `json:"customer"`
	Technician string `json:"technician"`
	Remarks    string `json:"remarks"`
}

type cylinderRecord struct {
	Cylinder int      `json:"cylinder"`
	Method   string   `json:"method"`
	Lines    []string `json:"lines"`
}

type valveRecord struct {
	Cylinder int           `json:"cylinder"`
	Valve    int           `json:"valve"`
	States   []stateRecord `json:"states"`
}

// stateRecord is a valve in one visit; figures are null when not measured.
type stateRecord struct {
	Date         string   `json:"date"`
	Odometer     *float64 `json:"odometer"`
	Grade        *int     `json:"grade"`
	GradeName    *string  `json:"grade_name"`
	Borderline   *bool    `json:"borderline"`
	Index        *float64 `json:"index"`
	IndexLow     *float64 `json:"index_low"`
	IndexHigh    *float64 `json:"index_high"`
	Coverage     *float64 `json:"coverage"`
	CoverageLow  *float64 `json:"coverage_low"`
	CoverageHigh *float64 `json:"coverage_high"`
	Photos       []string `json:"photos"`
}

// WriteJSON writes the document that Schema describes. Verify reads it, too.
func (m *Model) WriteJSON(w io.Writer) error {
	d := Document{
		Schema: SchemaVersion, Version: m.Program, Vehicle: m.Vehicle, Summary: m.Summary, Unit: m.Locale.Unit, Comparison: m.Change, Trend: m.Trend,
		Shop:  shopRecord{m.Shop.Name, append([]string{}, m.Shop.Address...), m.Shop.Phone, m.Shop.Email},
		Job:   jobRecord{m.Job.Number, m.Job.Date.Format(time.DateOnly), m.Job.Customer, m.Job.Technician, m.Job.Remarks},
		Notes: append([]string{}, m.Notes...), Cautions: m.Texts.CautionList,
	}
	for n := range m.Visits {
		d.Inspections = append(d.Inspections, m.inspectionRecord(n))
	}
	for _, c := range m.Cylinders {
		d.Cylinders = append(d.Cylinders, cylinderRecord{c.Number, c.Method, c.Lines})
		for _, v := range c.Valves {
			d.Valves = append(d.Valves, m.valveRecord(v))
		}
	}
	encoder := json.NewEncoder(w)
	encoder.SetEscapeHTML(false)
	encoder.SetIndent("", "  ")
	if err := encoder.Encode(d); err != nil {
		return fmt.Errorf("report: %w", err)
	}
	return nil
}

// inspectionRecord is a visit as scoring it writes it, its photos in the order of the inspection, but named as that names them:
// the folders of the shop's computer are nobody's business.
func (m *Model) inspectionRecord(visit int) graded.Document {
	d := graded.Document{Schema: score.SchemaVersion, Version: m.Visits[visit].Versions[0], Engine: m.Visits[visit].Engine, Photos: []score.Record{}}
	for _, c := range m.Cylinders {
		for _, v := range c.Valves {
			for _, p := range v.States[visit].Photos {
				record := p.Record
				record.Photo = p.File
				d.Photos = append(d.Photos, record)
			}
		}
	}
	return d
}

func (m *Model) valveRecord(v Valve) valveRecord {
	r := valveRecord{Cylinder: v.Cylinder, Valve: v.Number}
	for n, state := range v.States {
		i := m.Visits[n].Engine.Inspection
		s := stateRecord{
			Date: i.Date.Format(time.DateOnly), Odometer: points(i.Odometer.In(m.Locale.Unit)),
			Index: points(state.Index.Value), IndexLow: points(state.Index.Low), IndexHigh: points(state.Index.High),
			Coverage: points(state.Coverage.Value), CoverageLow: points(state.Coverage.Low), CoverageHigh: points(state.Coverage.High),
			Photos: []string{},
		}
		if g := state.Grade; g != nil {
			s.Grade, s.GradeName, s.Borderline = &g.Value, &m.Texts.Grades[g.Value].Name, &g.Borderline
		}
		for _, p := range state.Photos {
			s.Photos = append(s.Photos, p.File)
		}
		r.States = append(r.States, s)
	}
	return r
}

// points rounds a figure to hundredths; nil when it was not measured.
func points(v float64) *float64 { return number.Known(v, 2) }
