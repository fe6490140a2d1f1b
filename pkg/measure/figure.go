package measure

import "math"

// Figure is a value with its 95 % interval, Low <= Value <= High, in the unit of the value. All three are NaN when not
// measured; of figures that data do not bound, such as an agreement without exception, the interval alone is.
type Figure struct {
	Value, Low, High float64
}

// Unmeasured is the figure of nothing.
func Unmeasured() Figure { return Exactly(math.NaN()) }

// Exactly is a value without doubt, or one whose interval is still to be found.
func Exactly(value float64) Figure { return Figure{value, value, value} }

// Known reports whether there is a value.
func (f Figure) Known() bool { return !math.IsNaN(f.Value) }

// Turned reports whether the ends of the interval are turned round, as nobody measures them; false where there is none.
func (f Figure) Turned() bool { return f.Low > f.High }

// SD returns the standard deviation that the interval stands for, were it that of a normal distribution.
func (f Figure) SD() float64 { return (f.High - f.Low) / (2 * Normal975) }

// Scaled returns the figure in another unit, such as percent for a share with a factor of 100.
func (f Figure) Scaled(factor float64) Figure {
	return Figure{factor * f.Value, factor * f.Low, factor * f.High}
}

// atLeast raises the ends of the interval to those of a figure that is never above this one, as far as it still holds
// its value. One that is not known raises nothing.
func (f Figure) atLeast(least Figure) Figure {
	if !f.Known() || !least.Known() {
		return f
	}
	return Figure{f.Value, max(f.Low, min(f.Value, least.Low)), max(f.High, least.High)}
}

// atMost lowers the upper end of the interval to a bound, as far as it still holds its value. A bound that is not known
// lowers nothing.
func (f Figure) atMost(most float64) Figure {
	if f.Known() && !math.IsNaN(most) {
		f.High = max(f.Value, min(f.High, most))
	}
	return f
}
