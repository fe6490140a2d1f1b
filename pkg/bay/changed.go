package bay

import (
	"valvegrade/pkg/compare"
	"valvegrade/pkg/measure"
)

// Changed is what became of the engine, a cylinder or a valve: its means before and after, on what both inspections show.
type Changed struct {
	Dark    FromTo `json:"dark"`
	Index   FromTo `json:"index"`
	Verdict string `json:"verdict"`
	// IndexAlone is true where the verdict is of the index and the dark deposit shows no sure change.
	IndexAlone bool `json:"index_alone"`
}

// ChangedCylinder is one of both inspections.
type ChangedCylinder struct {
	Number int `json:"number"`
	// Method is how it was cleaned, "" when that is not said; LeftAlone is true where it was not, while others were.
	Method    string `json:"method"`
	LeftAlone bool   `json:"left_alone"`
	Changed
}

// FromTo is a figure before and after, and the difference with its interval, as it is shown (compare.Change.Shown); null
// where nothing was compared, the interval also where no change is claimed.
type FromTo struct {
	Before     measure.Number `json:"before"`
	After      measure.Number `json:"after"`
	Difference measure.Number `json:"difference"`
	Low        measure.Number `json:"low"`
	High       measure.Number `json:"high"`
}

func changedOf(c compare.Changes) Changed {
	return Changed{fromTo(c.Dark), fromTo(c.Index), string(c.Verdict()), c.Verdict() == compare.Changed && c.IndexLeads()}
}

func fromTo(c compare.Change) FromTo {
	if c.Verdict() == "" {
		unknown := measure.Unmeasured().Write(measure.PointDecimals).Value
		return FromTo{unknown, unknown, unknown, unknown, unknown}
	}
	d := c.Shown().Write(measure.PointDecimals)
	return FromTo{
		measure.Rounded(c.Before.Value, measure.PointDecimals), measure.Rounded(c.After.Value, measure.PointDecimals), d.Value, d.Low, d.High,
	}
}
