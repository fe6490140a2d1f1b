// Package number prepares measured values for JSON.
package number

import "math"

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
