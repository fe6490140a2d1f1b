package report

import (
	_ "embed"
	"encoding/json"
	"fmt"
	"io"
	"slices"
	"time"

	"valvegrade/pkg/compare"
	"valvegrade/pkg/engine"
	"valvegrade/pkg/grade"
	"valvegrade/pkg/inspection"
	"valvegrade/pkg/measure"
	"valvegrade/pkg/trend"
)

// SchemaVersion is the version of the written form. It changes only when a key is removed or changes its meaning.
const SchemaVersion = 1

// Schema is the JSON Schema (draft 2020-12) of what WriteJSON writes. The inspections in it are described by
// engine.Schema and score.Schema, the comparison by compare.Schema, the trend by trend.Schema.
//
//go:embed schema.json
var Schema []byte

// Document is the JSON form of a report.
type Document struct {
	Schema int `json:"schema"`
	// Version is the program that wrote the report.
	Version string `json:"version"`
	// Locale and Workshop are those of the Model: with them whoever has the inspections can write its sentences again.
	Locale    string           `json:"locale"`
	Workshop  bool             `json:"workshop"`
	Vehicle   string           `json:"vehicle"`
	Summary   string           `json:"summary"`
	Shop      shopRecord       `json:"shop"`
	Job       jobRecord        `json:"job"`
	Unit      inspection.Unit  `json:"odometer_unit"`
	Cylinders []cylinderRecord `json:"cylinders"`
	// Valves are one object per valve.
	Valves []ValveRecord `json:"valves"`
	// Inspections are one, or before and after, as scoring them writes them.
	Inspections []*engine.Graded `json:"inspections"`
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
	Cylinder int    `json:"cylinder"`
	Method   string `json:"method"`
	// LeftAlone is written only where it is true.
	LeftAlone bool     `json:"left_alone,omitempty"`
	Lines     []string `json:"lines"`
}

// ValveRecord is a valve in one visit, or before and after.
type ValveRecord struct {
	Cylinder int           `json:"cylinder"`
	Valve    int           `json:"valve"`
	States   []StateRecord `json:"states"`
}

// StateRecord is a valve in one visit; figures are null when not measured.
type StateRecord struct {
	Date     *string        `json:"date"`
	Odometer measure.Number `json:"odometer"`
	grade.Written
	measure.WrittenIndex
	measure.WrittenDark
	measure.WrittenCoverage
	Photos []string `json:"photos"`
}

// WriteJSON writes the document that Schema describes. Verify reads it, too.
func (m *Model) WriteJSON(w io.Writer) error {
	encoder := json.NewEncoder(w)
	encoder.SetEscapeHTML(false)
	encoder.SetIndent("", "  ")
	if err := encoder.Encode(m.Document()); err != nil {
		return fmt.Errorf("report: %w", err)
	}
	return nil
}

// Document is what WriteJSON writes. It shares what the model holds.
func (m *Model) Document() *Document {
	d := &Document{
		Schema: SchemaVersion, Version: m.Program, Locale: m.Locale.tag.String(), Workshop: m.Workshop,
		Vehicle: m.Vehicle, Summary: m.Summary, Unit: m.Locale.Unit, Comparison: m.Change, Trend: m.Trend,
		Shop: shopRecord{m.Shop.Name, append([]string{}, m.Shop.Address...), m.Shop.Phone, m.Shop.Email},
		Job: jobRecord{
			m.Job.Number,
			m.Job.Date.Format(time.DateOnly),
			m.Job.Customer,
			m.Job.Technician,
			m.Job.Remarks,
		},
		Notes: append([]string{}, m.Notes...), Cautions: m.Texts.CautionList,
	}
	engines := make([]*engine.Engine, len(m.Visits))
	for n, visit := range m.Visits {
		d.Inspections = append(d.Inspections, withoutMaps(visit.Graded))
		engines[n] = visit.Engine
	}
	d.Valves = ValveRecords(engines, m.Locale.Unit)
	for _, c := range m.Cylinders {
		d.Cylinders = append(d.Cylinders, cylinderRecord{c.Number, c.Method, c.LeftAlone, c.Lines})
	}
	return d
}

// withoutMaps leaves out what only comparing again needs, which takes the photos.
func withoutMaps(g *engine.Graded) *engine.Graded {
	figures := *g
	figures.Photos = slices.Clone(g.Photos)
	for n := range figures.Photos {
		figures.Photos[n].Map = nil
	}
	return &figures
}

// ValveRecords lists the valves of one engine in its visits, as the document does. It follows from the inspections
// alone, so that whoever has them can check it.
func ValveRecords(visits []*engine.Engine, unit inspection.Unit) []ValveRecord {
	var records []ValveRecord
	layout := visits[0].Inspection.Engine
	for c := range layout.Cylinders {
		for v := range layout.Valves {
			r := ValveRecord{Cylinder: c + 1, Valve: v + 1}
			for _, visit := range visits {
				r.States = append(r.States, stateRecord(visit, c, v, unit))
			}
			records = append(records, r)
		}
	}
	return records
}

// stateRecord is that of a valve; cylinder and valve are counted from 0.
func stateRecord(visit *engine.Engine, cylinder, valve int, unit inspection.Unit) StateRecord {
	i, found := visit.Inspection, visit.Cylinders[cylinder].Valves[valve]
	r := StateRecord{
		Date: i.Write().Date, Odometer: measure.Rounded(i.Odometer.In(unit), measure.PointDecimals),
		Written:      grade.Of(found.Index, found.Grades).Write(),
		WrittenIndex: measure.WriteIndex(found.Index), WrittenDark: measure.WriteDark(found.Dark),
		WrittenCoverage: measure.WriteCoverage(found.Coverage), Photos: []string{},
	}
	for _, shot := range found.Shots {
		r.Photos = append(r.Photos, shot.File)
	}
	return r
}
