// Package graded joins an inspection with the results of its photos, and saves both as one Document.
//
// It stands apart from package inspection so that inspections, and trends over them, can be read and computed by programs that
// grade nothing and need no image library.
package graded

import (
	"fmt"
	"time"

	"valvegrade/pkg/inspection"
	"valvegrade/pkg/score"
)

// Engine combines the records of the inspection's photos, one for each of i.Photos and in that order, as a batch over
// their paths gives them.
func Engine(i *inspection.Inspection, records []score.Record) (*inspection.Engine, error) {
	if len(records) != len(i.Photos) {
		return nil, fmt.Errorf("graded: %d results for %d photos", len(records), len(i.Photos))
	}
	shots := make([]inspection.Shot, len(records))
	for n, photo := range i.Photos {
		shots[n] = Shot(photo, &records[n])
	}
	return inspection.Combine(i, shots)
}

// Shot takes from a photo's record what combining needs. A refused photo gives an unmeasured shot.
func Shot(p inspection.Photo, r *score.Record) inspection.Shot {
	s := inspection.Shot{
		Photo:      p,
		Index:      inspection.Measure{Value: r.Index.Value(), Low: r.IndexLow.Value(), High: r.IndexHigh.Value()},
		Coverage:   inspection.Measure{Value: r.Coverage.Value(), Low: r.CoverageLow.Value(), High: r.CoverageHigh.Value()},
		Confidence: r.RegionConfidence.Value(),
	}
	if r.SHA256 != nil {
		s.SHA256 = *r.SHA256
	}
	if r.Taken != nil {
		if taken, err := time.Parse(score.TakenLayout, *r.Taken); err == nil { // a later program may write it otherwise
			s.Taken = &taken
		}
	}
	if r.Pixels != nil && r.Width != nil && r.Height != nil {
		s.Area = float64(*r.Pixels) * (1 - r.Unreadable.Value()) / float64(*r.Width**r.Height)
	}
	return s
}
