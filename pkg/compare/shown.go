package compare

import (
	"math"

	"valvegrade/internal/number"
	"valvegrade/pkg/measure"
)

// Shown is Difference for the eye: its value is that of Before and After rounded to whole points, as they stand beside it,
// so that 55 to 12 is 43 less. Rounded by itself, 55.4 to 11.6 would be 44 less: the difference is that of the two figures
// and no measurement of its own, so that nothing but rounding tells the two apart, by a point at most. It stays within its
// interval, rounded likewise. An index that is shown with decimals, to keep its grade, gives the same: 39.6 to 12 is 28
// less. NaN where Difference is.
func (c Change) Shown() measure.Figure {
	d := c.Difference
	if math.IsNaN(d.Value) {
		return d
	}
	d.Value = number.Shown(c.After.Value, 0) - number.Shown(c.Before.Value, 0)
	if !math.IsNaN(d.Low) {
		d.Value = min(max(d.Value, number.Shown(d.Low, 0)), number.Shown(d.High, 0))
	}
	return d
}

// SureAbove is Detectable for the eye, in whole points: rounded up, but to no more than the change where that is sure.
func (c Change) SureAbove() float64 {
	above := math.Ceil(c.Detectable)
	if c.Verdict() == Changed {
		above = min(above, math.Abs(c.Shown().Value))
	}
	return above
}
