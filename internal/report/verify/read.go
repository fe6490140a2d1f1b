package verify

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"

	"valvegrade/internal/plainjson"
	"valvegrade/pkg/compare"
	"valvegrade/pkg/engine"
	"valvegrade/pkg/inspection"
	"valvegrade/pkg/report"
	"valvegrade/pkg/score"
)

// Saved is what a file claims.
type Saved struct {
	Photos []score.Record
	// Faults are sentences on figures of valves, cylinders and engine that do not follow from the photos' own.
	Faults []string
	// Trend is true for a report with growth over the odometer. Its earlier inspections are not in the report, so that
	// their readings cannot be checked.
	Trend bool

	engines    []*engine.Engine
	comparison json.RawMessage
	// text is the whole of a report, and report what was read of it, nil for other files.
	text   json.RawMessage
	report *savedReport
}

// Decisions are sentences on what people decided, which no photo can confirm: grades beside the measured ones, photos
// left out.
func (s *Saved) Decisions() []string {
	var told []string
	for _, e := range s.engines {
		told = append(told, e.Decisions()...)
	}
	return told
}

// savedReport is what is read of a report; the rest of it are sentences, which follow.
type savedReport struct {
	Version   string `json:"version"`
	Locale    string `json:"locale"`
	Workshop  bool   `json:"workshop"`
	Vehicle   string `json:"vehicle"`
	Cylinders []struct {
		Cylinder int    `json:"cylinder"`
		Method   string `json:"method"`
	} `json:"cylinders"`
	Job struct {
		Date string `json:"date"`
	} `json:"job"`
	Unit        inspection.Unit   `json:"odometer_unit"`
	Inspections []json.RawMessage `json:"inspections"`
	Comparison  json.RawMessage   `json:"comparison"`
	Trend       json.RawMessage   `json:"trend"`
}

// Read loads a report written as JSON, or what score --json wrote. Errors wrap score.ErrDocument or engine.ErrDocument.
func Read(r io.Reader) (*Saved, error) {
	text, err := plainjson.Read(r)
	if err != nil {
		return nil, fmt.Errorf("%w: %w", score.ErrDocument, err)
	}
	saved, err := read(text)
	if err == nil && twice(text) {
		saved.Faults = append(saved.Faults, "a key stands twice in one object: one of them was put in")
	}
	return saved, err
}

// read is Read of a text within its limits.
func read(text []byte) (*Saved, error) {
	var written savedReport
	if err := json.Unmarshal(text, &written); err != nil ||
		len(written.Inspections) == 0 { // what is wrong with it is said there
		return readResult(text)
	}
	saved := &Saved{Trend: written.Trend != nil && string(written.Trend) != "null", text: text, report: &written}
	var parts []*Saved
	for _, one := range written.Inspections {
		part, engine, err := readInspection(one)
		if err != nil {
			return nil, err
		}
		saved.Faults, saved.engines = append(saved.Faults, part.Faults...), append(saved.engines, engine)
		parts = append(parts, part)
	}
	for n, part := range parts {
		if len(parts) == 2 {
			part.nameBy(visitNames(saved.engines)[n])
		}
		saved.Photos = append(saved.Photos, part.Photos...)
	}
	faults, err := forgedValves(text, written.Unit, saved.engines)
	if err != nil {
		return nil, err
	}
	saved.Faults = append(append(saved.Faults, faults...), forgedFacts(&written, saved.engines)...)
	if len(saved.engines) != 2 {
		return saved, nil
	}
	if err := compare.OneEngine(saved.engines[0].Inspection, saved.engines[1].Inspection, compare.Options{}); err != nil {
		saved.Faults = append(saved.Faults, err.Error())
	} else {
		saved.comparison = append(json.RawMessage{}, written.Comparison...) // not nil even where it was taken out
	}
	return saved, nil
}

// visitNames are what two inspections were made for, or their order where that is the same.
func visitNames(two []*engine.Engine) [2]string {
	if first, second := two[0].Inspection.Stage, two[1].Inspection.Stage; first != second {
		return [2]string{string(first), string(second)}
	}
	return [2]string{"first", "second"}
}

// nameBy tells namesakes of two inspections apart.
func (s *Saved) nameBy(visit string) {
	for n := range s.Photos {
		s.Photos[n].Photo = visit + "/" + s.Photos[n].Photo
	}
}

// readResult reads what score --json wrote of a folder with inspection.yaml, or of photos alone.
func readResult(text []byte) (*Saved, error) {
	saved, one, err := readInspection(text)
	if err == nil {
		saved.engines = []*engine.Engine{one}
	}
	if !errors.Is(err, engine.ErrPhotosOnly) {
		return saved, err
	}
	document, err := score.ReadDocument(bytes.NewReader(text))
	if err != nil {
		return nil, err
	}
	return &Saved{Photos: document.Photos}, nil
}

// readInspection reads a scored inspection, combines its photos again and holds the result against what is written.
func readInspection(text []byte) (*Saved, *engine.Engine, error) {
	document, err := engine.Read(bytes.NewReader(text))
	if err != nil {
		return nil, nil, err
	}
	saved := &Saved{Photos: document.Photos}
	var written struct {
		Inspection json.RawMessage `json:"inspection"`
	}
	if err := json.Unmarshal(text, &written); err != nil {
		return nil, nil, err
	}
	where, err := differences(written.Inspection, document.Engine, exact)
	if err != nil {
		return nil, nil, err
	}
	for _, path := range where {
		saved.Faults = append(
			saved.Faults,
			fmt.Sprintf(
				"inspection of %s: %s does not follow from the results of the photos",
				document.Engine.Inspection.Date.Format("2006-01-02"),
				path,
			),
		)
	}
	return saved, document.Engine, nil
}

// forgedFacts holds what a report says of its vehicle, and of how each cylinder was cleaned, against its inspections.
func forgedFacts(r *savedReport, engines []*engine.Engine) []string {
	var faults []string
	if r.Vehicle != engines[0].Inspection.Vehicle {
		faults = append(faults, "vehicle does not follow from the inspections of the report")
	}
	last := engines[len(engines)-1].Inspection
	for n, c := range r.Cylinders {
		if c.Method != last.Methods[c.Cylinder] {
			faults = append(faults, fmt.Sprintf("cylinders[%d].method does not follow from the inspections of the report", n))
		}
	}
	return faults
}

// forgedValves holds the list of valves in a report, which other programs read, against its inspections.
func forgedValves(text json.RawMessage, unit inspection.Unit, engines []*engine.Engine) ([]string, error) {
	for _, e := range engines[1:] {
		if e.Inspection.Engine != engines[0].Inspection.Engine {
			return []string{"the inspections are not of one engine"}, nil
		}
	}
	where, err := differences(text, struct {
		Valves []report.ValveRecord `json:"valves"`
	}{report.ValveRecords(engines, unit)}, exact)
	var faults []string
	for _, path := range where {
		faults = append(faults, fmt.Sprintf("%s does not follow from the inspections of the report", path))
	}
	return faults, err
}
