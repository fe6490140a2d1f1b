// Package number holds what several rooms do with measured values alike: write and show them, and take their middle and
// their quantiles.
package number

import (
	"math"
	"slices"
	"strconv"
)

// writtenDecimals are those of index and coverage in a saved result.
const writtenDecimals = 2

// Shown rounds v, a measured value on its scale of 0 to 100, for the eye to at most two decimals, halves away from
// zero. It starts from the value as it is saved, so that a picture drawn while measuring and a report of the saved
// result show the same figure. NaN stays NaN.
func Shown(v float64, decimals int) float64 {
	written := math.Round(v * math.Pow10(writtenDecimals))
	return math.Round(written/math.Pow10(writtenDecimals-decimals))/math.Pow10(decimals) + 0 // + 0 turns -0 into 0
}

// Text writes what Shown returns with all its decimals.
func Text(v float64, decimals int) string {
	return strconv.FormatFloat(Shown(v, decimals), 'f', decimals, 64)
}

// Thousands writes a whole number, 0 or more, with its thousands apart: 45 000.
func Thousands(v float64) string {
	digits := strconv.FormatFloat(v, 'f', 0, 64)
	for at := len(digits) - 3; at > 0; at -= 3 {
		digits = digits[:at] + " " + digits[at:]
	}
	return digits
}

// Median returns the middle value, the mean of the two middle ones of an even number, NaN of none. The values stay as
// they are.
func Median(values []float64) float64 {
	if len(values) == 0 {
		return math.NaN()
	}
	sorted := slices.Sorted(slices.Values(values))
	n := len(sorted)
	return (sorted[(n-1)/2] + sorted[n/2]) / 2
}

// Quantile interpolates between sorted values, at least one, where share of them, 0 to 1, lie below (type 7 of Hyndman
// & Fan, The American Statistician 50 (1996), 361).
func Quantile(sorted []float64, share float64) float64 {
	at := share * float64(len(sorted)-1)
	i := int(at)
	if i+1 == len(sorted) {
		return sorted[i]
	}
	return sorted[i] + (at-float64(i))*(sorted[i+1]-sorted[i])
}
