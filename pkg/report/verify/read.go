package verify

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math"

	"valvegrade/pkg/inspection"
	"valvegrade/pkg/inspection/graded"
	"valvegrade/pkg/score"
)

// mostBytes is the size limit of a saved result; one of a thousand photos takes about 3 MB.
const mostBytes = 256 << 20

// Saved is what a file claims.
type Saved struct {
	Photos []score.Record
	// Faults are sentences on figures of valves, cylinders and engine that do not follow from the photos' own.
	Faults []string
}

// savedReport is what is read of a report; the rest of it repeats the inspections.
type savedReport struct {
	Valves []struct {
		Cylinder int `json:"cylinder"`
		Valve    int `json:"valve"`
		States   []struct {
			Grade *int     `json:"grade"`
			Index *float64 `json:"index"`
		} `json:"states"`
	} `json:"valves"`
	Inspections []json.RawMessage `json:"inspections"`
}

// Read loads a report written as JSON, or what score --json wrote. Errors wrap score.ErrDocument or inspection.ErrDocument.
func Read(r io.Reader) (*Saved, error) {
	text, err := io.ReadAll(io.LimitReader(r, mostBytes+1))
	switch {
	case err != nil:
		return nil, err
	case len(text) > mostBytes:
		return nil, fmt.Errorf("%w: larger than %d MiB", score.ErrDocument, mostBytes>>20)
	}
	var report savedReport
	if err := json.Unmarshal(text, &report); err != nil || report.Inspections == nil { // what is wrong with it is said there
		return readResult(text)
	}
	saved := &Saved{}
	var engines []*inspection.Engine
	for _, one := range report.Inspections {
		part, engine, err := readInspection(one)
		if err != nil {
			return nil, err
		}
		if len(report.Inspections) > 1 {
			part.nameBy(engine.Inspection.Stage)
		}
		saved.Photos, saved.Faults = append(saved.Photos, part.Photos...), append(saved.Faults, part.Faults...)
		engines = append(engines, engine)
	}
	saved.Faults = append(saved.Faults, report.faults(engines)...)
	return saved, nil
}

// nameBy tells namesakes before and after apart.
func (s *Saved) nameBy(stage inspection.Stage) {
	for n := range s.Photos {
		s.Photos[n].Photo = string(stage) + "/" + s.Photos[n].Photo
	}
}

// readResult reads what score --json wrote of a folder with inspection.yaml, or of photos alone.
func readResult(text []byte) (*Saved, error) {
	saved, _, err := readInspection(text)
	if !errors.Is(err, graded.ErrPhotosOnly) {
		return saved, err
	}
	document, err := score.ReadDocument(bytes.NewReader(text))
	if err != nil {
		return nil, err
	}
	return &Saved{Photos: document.Photos}, nil
}

// readInspection reads a scored inspection, combines its photos again and holds the result against what is written.
func readInspection(text []byte) (*Saved, *inspection.Engine, error) {
	document, err := graded.Read(bytes.NewReader(text))
	if err != nil {
		return nil, nil, err
	}
	saved := &Saved{Photos: document.Photos}
	var written struct {
		Inspection any `json:"inspection"`
	}
	if err := json.Unmarshal(text, &written); err != nil {
		return nil, nil, err
	}
	engine, err := json.Marshal(document.Engine)
	if err != nil {
		return nil, nil, err
	}
	var again any
	if err := json.Unmarshal(engine, &again); err != nil {
		return nil, nil, err
	}
	if path := difference("", written.Inspection, again); path != "" {
		saved.Faults = append(saved.Faults, fmt.Sprintf("inspection of %s: %s does not follow from the results of the photos", document.Engine.Inspection.Date.Format("2006-01-02"), path))
	}
	return saved, document.Engine, nil
}

// difference returns where two JSON values first differ, "" when they do not. Keys that only the first has are left to
// a later version.
func difference(path string, a, b any) string {
	switch b := b.(type) {
	case map[string]any:
		object, ok := a.(map[string]any)
		if !ok {
			return path
		}
		for key, value := range b {
			if where := difference(path+"."+key, object[key], value); where != "" {
				return where
			}
		}
		return ""
	case []any:
		list, ok := a.([]any)
		if !ok || len(list) != len(b) {
			return path
		}
		for i, value := range b {
			if where := difference(fmt.Sprintf("%s[%d]", path, i), list[i], value); where != "" {
				return where
			}
		}
		return ""
	default:
		if a != b {
			return path
		}
		return ""
	}
}

// faults holds the list of valves, which other programs read, against the inspections.
func (r savedReport) faults(engines []*inspection.Engine) []string {
	var faults []string
	for _, v := range r.Valves {
		for n, state := range v.States {
			name := fmt.Sprintf("cylinder %d valve %d", v.Cylinder, v.Valve)
			index, known := indexIn(engines, n, v.Cylinder, v.Valve)
			switch {
			case !known:
				faults = append(faults, name+" is in the list of valves, but not in the inspection")
			case !sameIndex(state.Index, index) || !sameGrade(state.Grade, index):
				faults = append(faults, name+": grade or index in the list of valves is not that of the inspection")
			}
		}
	}
	return faults
}

func indexIn(engines []*inspection.Engine, visit, cylinder, valve int) (inspection.Measure, bool) {
	if visit >= len(engines) || cylinder < 1 || cylinder > len(engines[visit].Cylinders) {
		return inspection.Measure{}, false
	}
	valves := engines[visit].Cylinders[cylinder-1].Valves
	if valve < 1 || valve > len(valves) {
		return inspection.Measure{}, false
	}
	return valves[valve-1].Index, true
}

// sameIndex allows for the rounding to hundredths.
func sameIndex(written *float64, index inspection.Measure) bool {
	if written == nil || !index.Known() {
		return written == nil && !index.Known()
	}
	return math.Abs(*written-index.Value) < 0.00501
}

func sameGrade(written *int, index inspection.Measure) bool {
	g := index.Grade()
	if written == nil || g == nil {
		return written == nil && g == nil
	}
	return *written == g.Value
}
