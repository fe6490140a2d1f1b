package deposit

import (
	"math"

	"valvegrade/pkg/grade"
	"valvegrade/pkg/measure"
)

// BuildUp says how thick the dark deposit is.
type BuildUp string

// Most of the dark deposit is heavy, or most of it is medium, each with a probability of at least grade.Certain.
// Otherwise, and where there is too little of it to speak of, the photo cannot tell.
const (
	Thick   BuildUp = "thick"
	Thin    BuildUp = "thin"
	Unknown BuildUp = "unknown"
)

// littleDark is the dark deposit, in percent, below which its thickness is not worth a word.
const littleDark = 5

// buildUp returns the percentage of the dark deposit that is heavy, and what can be said of it; values are the
// percentages in the draws.
func (b belief) buildUp(shares measure.Shares, values []float64) (measure.Figure, BuildUp) {
	thick := b.around(shares.Thick(), values)
	if !thick.Known() || shares.Dark() < littleDark {
		return thick, Unknown
	}
	var more, all float64
	for i, v := range values {
		if !math.IsNaN(v) {
			all += b[i]
			if v >= 50 {
				more += b[i]
			}
		}
	}
	switch {
	case more >= grade.Certain*all:
		return thick, Thick
	case more <= (1-grade.Certain)*all:
		return thick, Thin
	}
	return thick, Unknown
}
