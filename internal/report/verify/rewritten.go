package verify

import (
	"encoding/json"
	"errors"
	"fmt"
	"time"

	"valvegrade/pkg/engine"
	"valvegrade/pkg/report"
	"valvegrade/pkg/score"
	"valvegrade/pkg/unroll"
)

// Tells reports whether the file is a report with sentences, which Rewrite can check.
func (s *Saved) Tells() bool { return s.report != nil }

// Rewrite writes the report once more and says in a sentence each what comes out otherwise: figures of before and after,
// and sentences. again are the results of all its photos, with their maps where the report Compares, scored by the
// version that scored them for the report. What shop and customer wrote, and what earlier inspections read, is left aside.
func (s *Saved) Rewrite(again []score.Record) ([]string, error) {
	if !s.Tells() {
		return nil, nil
	}
	if len(again) > 0 && again[0].Version != s.report.Version {
		return []string{fmt.Sprintf("the report was written by %s, this is %s: only that version can check its sentences",
			s.report.Version, again[0].Version)}, nil
	}
	maps := mapsOf(again)
	missing := map[valve]absence{}
	if s.Compares() {
		wholes, err := wholesOf(s.comparison)
		if err != nil {
			return []string{"before and after: what the report has is no comparison"}, nil
		}
		if missing, err = s.guessMissing(maps, wholes); err != nil {
			return nil, err
		}
	}
	model, err := s.report.build(s.graded(maps, missing))
	if err != nil {
		return []string{"the report cannot be written of its photos: " + err.Error()}, nil
	}
	document := model.Document()
	var forged []string
	if s.Trend {
		if document.Trend, forged, err = s.growth(); err != nil {
			return nil, err
		}
	}
	faults, err := s.unlike(document)
	return append(faults, forged...), err
}

// unlike says where the report differs from what it should be.
func (s *Saved) unlike(rewritten *report.Document) ([]string, error) {
	var faults []string
	words := tolerance(exact)
	if s.Compares() {
		where, near, err := s.against(rewritten.Comparison)
		if err != nil {
			return nil, err
		}
		words = near
		for _, path := range where {
			faults = append(faults, fmt.Sprintf("before and after: %s does not follow from the photos", path))
		}
	}
	where, err := differences(s.text, struct {
		Summary   string   `json:"summary"`
		Cylinders any      `json:"cylinders"`
		Notes     []string `json:"notes"`
		Cautions  []string `json:"cautions"`
	}{rewritten.Summary, rewritten.Cylinders, rewritten.Notes, rewritten.Cautions}, words)
	if err != nil {
		return nil, err
	}
	for _, path := range where {
		faults = append(faults, fmt.Sprintf("%s is not what the program says of these photos", path))
	}
	added, err := s.added(rewritten)
	for _, path := range added {
		faults = append(faults, fmt.Sprintf("%s is nothing that the program writes", path))
	}
	return faults, err
}

// added returns the keys that somebody put into the report.
func (s *Saved) added(rewritten *report.Document) ([]string, error) {
	written, err := json.Marshal(rewritten)
	if err != nil {
		return nil, err
	}
	var a, b any
	err = errors.Join(json.Unmarshal(s.text, &a), json.Unmarshal(written, &b))
	return strange(nil, "", a, b), err
}

// build makes the report anew of its graded inspections, without pictures.
func (r *savedReport) build(visits []*engine.Graded) (*report.Model, error) {
	in := report.Input{Locale: r.Locale, Unit: r.Unit, Program: r.Version, Workshop: r.Workshop}
	day, err := time.Parse(time.DateOnly, r.Job.Date)
	if err != nil {
		return nil, fmt.Errorf("job.date %q is no day", r.Job.Date)
	}
	in.Job.Date = day
	for _, visit := range visits {
		in.Visits = append(in.Visits, report.Source{Graded: visit})
	}
	return report.Build(in)
}

// mapsOf returns the maps of valves by where they are seen.
func mapsOf(again []score.Record) map[sight]*unroll.Packed {
	maps := map[sight]*unroll.Packed{}
	for n := range again {
		if again[n].SHA256 != nil {
			maps[sightOf(&again[n])] = again[n].Map
		}
	}
	return maps
}
