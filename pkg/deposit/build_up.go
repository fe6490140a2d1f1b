package deposit

import (
	"math"

	"valvegrade/pkg/grade"
	"valvegrade/pkg/measure"
)

// BuildUp says how thick the dark deposit is.
type BuildUp string

// Most of the dark deposit is heavy, with a probability of at least grade.Certain, or most of it is medium, with at
// least thinCertain. Otherwise, and where there is too little of it to speak of, the photo cannot tell.
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

// buildUp returns the percentage of the dark deposit that is heavy, and what can be said of it; values are the
// percentages in the draws.
func (b belief) buildUp(shares measure.Shares, values []float64) (measure.Figure, BuildUp) {
	thick := b.around(shares.Thick(), values)
	if !thick.Known() || shares.Dark() < LittleDark {
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
	case more <= (1-thinCertain)*all:
		return thick, Thin
	}
	return thick, Unknown
}
