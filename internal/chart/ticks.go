package chart

import (
	"math"

	"gonum.org/v1/plot"
)

// Ticks puts five to thirteen labelled marks at multiples of 1, 2 or 5 times a power of ten, and writes them with
// Label.
type Ticks struct {
	Label func(value float64) string
}

// Ticks returns the marks between min and max.
func (t Ticks) Ticks(min, max float64) []plot.Tick {
	step := stepOf(max - min)
	var marks []plot.Tick
	for i := math.Ceil(min/step) + 0; i*step <= max; i++ { // + 0 turns -0 into 0
		marks = append(marks, plot.Tick{Value: i * step, Label: t.Label(i * step)})
	}
	return marks
}

// stepOf returns the largest step that divides the span into at least five parts.
func stepOf(span float64) float64 {
	power := math.Pow(10, math.Floor(math.Log10(span/5)))
	for _, factor := range []float64{5, 2} {
		if span/(factor*power) >= 5 {
			return factor * power
		}
	}
	return power
}
