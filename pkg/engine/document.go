package engine

import (
	_ "embed"
	"encoding/json"
	"maps"
	"slices"

	"valvegrade/pkg/grade"
	"valvegrade/pkg/inspection"
	"valvegrade/pkg/measure"
	"valvegrade/pkg/score"
)

// SchemaVersion is the version of the written form.
const SchemaVersion = 1

// Schema is the JSON Schema (draft 2020-12) of what Engine.MarshalJSON writes.
//
//go:embed schema.json
var Schema []byte

// shareDecimals are those of shares and confidence.
const shareDecimals = 4

// figures are grade and index as score writes them; all null when nothing was measured.
type figures struct {
	grade.Written
	measure.WrittenIndex
}

func figuresOf(index measure.Figure, p grade.Probabilities) figures {
	return figures{grade.Of(index, p).Write(), measure.WriteIndex(index)}
}

type shotRecord struct {
	Photo string `json:"photo"`
	// FromLeft is written only where the photo is listed for several valves.
	FromLeft int `json:"from_left,omitempty"`
	measure.WrittenIndex
	Area       measure.Number `json:"readable_share_of_frame"`
	Confidence measure.Number `json:"region_confidence"`
	// LeftOut is written only for a photo that does not count.
	LeftOut *signedRecord `json:"left_out,omitempty"`
}

type valveRecord struct {
	Valve int `json:"valve"`
	figures
	measure.WrittenDark
	writtenBuildUp
	score.WrittenThick
	measure.WrittenCoverage
	// Further is written only where the dark deposit was measured.
	Further    *measure.Number `json:"dark_half_width_with_one_more_photo,omitempty"`
	PhotosUsed int             `json:"photos_used"`
	Spread     measure.Number  `json:"spread_sd_points"`
	Apart      bool            `json:"photos_contradict"`
	Photos     []shotRecord    `json:"photos"`
	// Overruled is written only where a person gave another grade.
	Overruled *overruledRecord `json:"overruled,omitempty"`
}

type cylinderRecord struct {
	Cylinder int     `json:"cylinder"`
	Method   *string `json:"method"`
	figures
	measure.WrittenDark
	writtenBuildUp
	WorstValve *int          `json:"worst_valve"`
	Valves     []valveRecord `json:"valves"`
}

type methodRecord struct {
	Cylinder int    `json:"cylinder"`
	Method   string `json:"method"`
}

type engineRecord struct {
	Schema int `json:"schema"`
	Scale  int `json:"scale"`
	inspection.Written
	Methods       []methodRecord   `json:"methods"`
	Remarks       string           `json:"remarks"`
	Worst         figures          `json:"worst"`
	WorstCylinder *int             `json:"worst_cylinder"`
	Median        figures          `json:"median"`
	Cylinders     []cylinderRecord `json:"cylinders"`
	Notes         []string         `json:"notes"`
}

// MarshalJSON writes the document that Schema describes. What was not measured is null.
func (e *Engine) MarshalJSON() ([]byte, error) {
	i := e.Inspection
	r := engineRecord{
		Schema: SchemaVersion, Scale: grade.Scale, Written: i.Write(),
		Methods: []methodRecord{}, Remarks: i.Notes,
		Worst:         figuresOf(e.Worst, e.WorstGrades),
		WorstCylinder: placeOf(e.WorstCylinder), Median: figuresOf(e.Median, e.MedianGrades),
		Notes: append([]string{}, e.Notes...),
	}
	for _, n := range slices.Sorted(maps.Keys(i.Methods)) {
		r.Methods = append(r.Methods, methodRecord{n, i.Methods[n]})
	}
	for _, c := range e.Cylinders {
		r.Cylinders = append(r.Cylinders, c.record(i.Overruling))
	}
	return json.Marshal(r)
}

// placeOf writes a number counted from 1, of which 0 means none.
func placeOf(n int) *int {
	if n == 0 {
		return nil
	}
	return &n
}

func (c Cylinder) record(overruling func(cylinder, valve int) *inspection.Overruled) cylinderRecord {
	r := cylinderRecord{
		Cylinder: c.Number, figures: figuresOf(c.Index, c.Grades), WrittenDark: measure.WriteDark(c.Dark),
		writtenBuildUp: writeBuildUp(c.BuildUp), WorstValve: placeOf(c.Worst),
	}
	if c.Method != "" {
		r.Method = &c.Method
	}
	for _, v := range c.Valves {
		record := v.record()
		record.Overruled = overruledOf(overruling(c.Number, v.Number))
		r.Valves = append(r.Valves, record)
	}
	return r
}

func (v Valve) record() valveRecord {
	r := valveRecord{
		Valve: v.Number, figures: figuresOf(v.Index, v.Grades),
		WrittenDark: measure.WriteDark(v.Dark), writtenBuildUp: writeBuildUp(v.BuildUp), WrittenThick: score.WriteThick(v.Heavy), WrittenCoverage: measure.WriteCoverage(v.Coverage),
		PhotosUsed: v.Used, Spread: measure.Rounded(v.Spread, measure.PointDecimals), Apart: v.Apart,
		Photos: []shotRecord{},
	}
	if v.Dark.Known() {
		r.Further = new(measure.Rounded(v.Further(), measure.PointDecimals))
	}
	for _, s := range v.Shots {
		r.Photos = append(r.Photos, shotRecord{
			s.File, s.FromLeft, measure.WriteIndex(s.Index),
			measure.Rounded(s.Area, shareDecimals), measure.Rounded(s.Confidence, shareDecimals), leftOutOf(s.LeftOut),
		})
	}
	return r
}
