package engine

import (
	"math"

	"valvegrade/pkg/measure"
)

// Mean brings several measures of one thing together and returns the standard deviation between them, NaN for one
// alone. weights are at least 0 and sum to 1; there are as many as measures, at least one.
//
// Measure i with the figure y_i and the weight a_i: the mean is m = sum a_i y_i. Measures of one valve share the look
// that may be misread, so their own errors do not average out: the half width of the interval towards each side starts
// from the weighted mean of the half widths, h = sum a_i h_i. What differs between them comes on top: with the unbiased
// weighted variance S^2 = sum a_i (y_i - m)^2 / (1 - sum a_i^2), the half width is sqrt(h^2 + 1.96^2 S^2 sum a_i^2).
// One measure alone keeps its own interval. The interval ends at 0 and 100.
func Mean(measures []measure.Figure, weights []float64) (mean measure.Figure, spread float64) {
	var down, up, squares float64
	for i, m := range measures {
		w := weights[i]
		mean.Value += w * m.Value
		down += w * (m.Value - m.Low)
		up += w * (m.High - m.Value)
		squares += w * w
	}
	variance := 0.0
	for i, m := range measures {
		d := m.Value - mean.Value
		variance += weights[i] * d * d
	}
	spread = math.NaN()
	between := 0.0
	if squares < 1 {
		variance /= 1 - squares
		spread = math.Sqrt(variance)
		between = measure.Normal975 * math.Sqrt(variance*squares)
	}
	mean.Low = math.Max(0, mean.Value-math.Hypot(down, between))
	mean.High = math.Min(100, mean.Value+math.Hypot(up, between))
	return mean, spread
}
