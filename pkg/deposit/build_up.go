package deposit

import (
	"math"

	"valvegrade/pkg/grade"
	"valvegrade/pkg/measure"
)

// BuildUp says how thick the dark deposit is.
type BuildUp string

// Most of the dark deposit is heavy, with a probability of at least grade.Certain, or most of it is medium, with at
// least thinCertain. Otherwise, and where there is or may be too little of it to speak of, the photo cannot tell.
const (
	Thick   BuildUp = "thick"
	Thin    BuildUp = "thin"
	Unknown BuildUp = "unknown"
)

// thinCertain asks more of thin coats, of which the draws are too sure: on 502 held-back photos that it was not set on,
// nine of ten that pass it are thin.
const thinCertain = 0.975

// LittleDark is the dark deposit, in percent, below which its thickness is not worth a word.
const LittleDark = 5

// MostlyHeavy is what there is to know of how thick a dark deposit is.
type MostlyHeavy struct {
	// Share is the percentage of the dark deposit that is heavy, unmeasured where there is none.
	Share measure.Figure
	// Chance, 0 to 1, is the probability that this is more than half of it; NaN where that was not asked.
	Chance float64
}

// BuildUpOf says what a chance that most of the dark deposit is heavy allows to say, given the dark deposit in percent,
// of which there must be some at the low end of its interval: the rule for one photo and for several together.
func BuildUpOf(chance float64, dark measure.Figure) BuildUp {
	switch {
	case !(dark.Low >= LittleDark):
		return Unknown
	case chance >= grade.Certain:
		return Thick
	case chance <= 1-thinCertain:
		return Thin
	}
	return Unknown
}

// Chance is what a word alone says of the probability that most of the dark deposit is heavy, NaN of none: for results
// of versions that wrote no more.
func (b BuildUp) Chance() float64 {
	switch b {
	case Thick:
		return grade.Certain
	case Thin:
		return 1 - thinCertain
	case Unknown:
		return 0.5
	}
	return math.NaN()
}

// mostlyHeavy returns what the draws say; values are the percentages of the dark deposit that are heavy in them.
func (b belief) mostlyHeavy(shares measure.Shares, values []float64) MostlyHeavy {
	var more, all float64
	for i, v := range values {
		if !math.IsNaN(v) {
			all += b[i]
			if v >= 50 {
				more += b[i]
			}
		}
	}
	return MostlyHeavy{b.around(shares.Thick(), values), more / all}
}

// thick brings the drawn percentages of the dark deposit that are heavy to what index and dark deposit of the same draw
// allow: the error that the net expects of these two is in no class, of which there may be no heavy cell in any draw.
// With the shares h, m and f of heavy, medium and film the index is 100 (h + m/2 + f/4), and f at most what is not dark,
// so that 100 h lies between 2 index - dark/2 - 50 and 2 index - dark.
func (d Draws) thick(percentages []float64) []float64 {
	for i, dark := range d.Dark {
		if dark > 0 { // false for NaN
			least, most := clamped(100*(2*d.Index[i]-dark/2-50)/dark), clamped(100*(2*d.Index[i]-dark)/dark)
			percentages[i] = min(most, max(least, percentages[i]))
		}
	}
	return percentages
}
