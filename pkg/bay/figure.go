package bay

import (
	"valvegrade/pkg/deposit"
	"valvegrade/pkg/grade"
	"valvegrade/pkg/measure"
	"valvegrade/pkg/score"
)

// Figure is a grade with what it rests on; Grade is null where nothing was measured.
type Figure struct {
	Grade      *int   `json:"grade"`
	Name       string `json:"name"`
	Borderline bool   `json:"borderline"`
	// Perhaps is the likeliest grade where that is another, else null; where several in a row are named, the lowest of
	// them, and PerhapsTo the highest (grade.Grade.Perhaps).
	Perhaps   *int `json:"perhaps"`
	PerhapsTo *int `json:"perhaps_to"`
	// Dark is the dark deposit in percent; null where it is not known.
	Dark     measure.Number `json:"dark"`
	DarkLow  measure.Number `json:"dark_low"`
	DarkHigh measure.Number `json:"dark_high"`
	Index    measure.Number `json:"index"`
	Low      measure.Number `json:"low"`
	High     measure.Number `json:"high"`
	// Probabilities are those of the grades 0 to 4, none where nothing was measured.
	Probabilities []measure.Number `json:"probabilities"`
	// Decision is what they allow to say about a cleaning, "" where nothing was measured; Certainty how likely that is
	// right, of a photo that cannot say how likely a cleaning is due, 0.01 to 0.99 in the whole percent that are told.
	// Practice is the grade whose common practice the decision stands for, null where it cannot say.
	Decision  grade.Decision `json:"decision"`
	Certainty measure.Number `json:"certainty"`
	Practice  *int           `json:"practice"`
	// BuildUp is thick, thin or unknown; "" where it was not asked for.
	BuildUp deposit.BuildUp `json:"build_up"`
}

// figureOf is a reading with its grade. Where the probabilities are not known they are those of the interval.
func figureOf(r measure.Reading, p grade.Probabilities, buildUp deposit.BuildUp) Figure {
	index, dark := measure.WriteIndex(r.Index), measure.WriteDark(r.Dark)
	told := Figure{
		Index: index.Index, Low: index.IndexLow, High: index.IndexHigh,
		Dark: dark.Dark, DarkLow: dark.DarkLow, DarkHigh: dark.DarkHigh, BuildUp: buildUp,
	}
	g := grade.Of(r.Index, p)
	if g == nil {
		return told
	}
	written := g.Write()
	told.Grade, told.Name, told.Borderline = written.Grade, g.Name, g.Borderline
	told.Probabilities = written.Probabilities
	if run, another := g.Perhaps(); another {
		told.Perhaps = new(run.From)
		if run.From < run.To {
			told.PerhapsTo = new(run.To)
		}
	}
	told.decide(g)
	return told
}

// decide says what the probabilities of a grade allow to say about a cleaning.
func (f *Figure) decide(g *grade.Grade) {
	decision, certainty := g.Probabilities.Decide()
	const decimals = 2
	f.Decision, f.Certainty = decision, measure.Rounded(grade.Certainty(certainty)/100, decimals)
	if practised := decision.Practised(g.Value, f.BuildUp == deposit.Thin); practised >= 0 {
		f.Practice = new(practised)
	}
}

// figureOfRecord is a valve as one photo shows it.
func figureOfRecord(r score.Record) Figure {
	if r.Grade == nil {
		return Figure{}
	}
	var buildUp deposit.BuildUp
	if r.BuildUp != nil {
		buildUp = *r.BuildUp
	}
	told := figureOf(r.Reading(), r.Odds(), buildUp)
	told.Grade, told.Name, told.Borderline = r.Grade, *r.GradeName, *r.Borderline // as it was written down
	return told
}

// indexOnly is the reading of an index of which the rest is not known.
func indexOnly(index measure.Figure) measure.Reading {
	return darkAndIndex(measure.Unmeasured(), index)
}

func darkAndIndex(dark, index measure.Figure) measure.Reading {
	return measure.Reading{Index: index, Dark: dark, Coverage: measure.Unmeasured()}
}
