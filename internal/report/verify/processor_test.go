package verify_test

import (
	"valvegrade/pkg/measure"
	"valvegrade/pkg/score"
)

// processor changes figures as another processor does.
func processor(r *score.Record) { r.Index, r.IndexHigh = more(r.Index, 0.02), more(r.IndexHigh, -0.05) }

func more(n measure.Number, by float64) measure.Number { return measure.Rounded(n.Value()+by, 6) }
