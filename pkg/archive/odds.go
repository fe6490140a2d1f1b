package archive

import (
	"context"
	"encoding/json"

	"valvegrade/pkg/grade"
	"valvegrade/pkg/measure"
)

// OfWorst is what an inspection says of its worst cylinder.
type OfWorst struct {
	// CylindersGraded counts the cylinders of which it is the worst.
	CylindersGraded int `json:"cylinders_graded"`
	// Grade and Worst are its grade and deposit index, nil where nothing was measured. Odds are the probabilities of its
	// grades, nil where they are not known.
	Grade *int                 `json:"grade"`
	Odds  *grade.Probabilities `json:"probabilities"`
	Worst *float64             `json:"index"`
}

// Judged is the grade with all that is to be said beside it, nil where nothing was measured.
func (o OfWorst) Judged() *grade.Grade {
	if o.Worst == nil {
		return nil
	}
	index := measure.Unmeasured()
	index.Value = *o.Worst
	var odds grade.Probabilities
	if o.Odds != nil {
		odds = *o.Odds
	}
	return grade.Of(index, odds)
}

// oddsText is how probabilities are kept, nil for those that are not known.
func oddsText(p grade.Probabilities) *string {
	if !p.Known() {
		return nil
	}
	text, err := json.Marshal(p)
	if err != nil { // numbers only
		panic(err)
	}
	return new(string(text))
}

// readOdds reads what oddsText wrote; nil for none, and for what cannot be read, which Check names.
func readOdds(text *string) *grade.Probabilities {
	var p grade.Probabilities
	if text == nil || json.Unmarshal([]byte(*text), &p) != nil {
		return nil
	}
	return &p
}

// complete takes from the results of an inspection the odds that programs of an earlier format did not write. Where there
// are no results any more, they stay unknown.
func (o *OfWorst) complete(ctx context.Context, a *Archive, inspection int64) error {
	if o.Grade == nil || o.Odds != nil {
		return nil
	}
	g, err := a.Graded(ctx, inspection, "")
	if err != nil {
		return ctx.Err() // Check tells what is wrong with the results
	}
	o.Odds = new(g.Engine.WorstGrades)
	return nil
}
