// Package number holds what the rooms above score do with measured values alike: write them, and take their middle.
package number

import (
	"math"
	"slices"
)

// Known returns v rounded to the given number of decimals, so that the same measurement always prints the same, or nil, which
// is null in JSON, when v was not measured (NaN) or has no value (infinite).
func Known(v float64, decimals int) *float64 {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return nil
	}
	scale := math.Pow10(decimals)
	rounded := math.Round(v*scale)/scale + 0 // + 0 turns -0 into 0
	return &rounded
}

// Median returns the middle value, the mean of the two middle ones of an even number, NaN of none. The values stay as they are.
func Median(values []float64) float64 {
	if len(values) == 0 {
		return math.NaN()
	}
	sorted := slices.Sorted(slices.Values(values))
	n := len(sorted)
	return (sorted[(n-1)/2] + sorted[n/2]) / 2
}
