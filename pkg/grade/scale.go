package grade

import (
	"math"

	"valvegrade/internal/number"
	"valvegrade/pkg/measure"
)

// Scale is the version of the scale below. The scale never changes silently: other limits or names are another version.
const Scale = 1

// limits are the deposit indices at which grades 1 to 4 begin. A limit belongs to the grade above it: 2 is grade 1.
//
// The steps widen upwards as those of area-percent scales for rust and blisters do: at the clean end a few spots decide
// whether a cleaning worked, at the dirty end the decision to clean has been made long before.
var limits = [...]float64{2, 15, 40, 70}

var names = [...]string{"bare", "film", "patchy", "crusted", "caked"}

// Limits returns the deposit indices at which grades 1 to 4 begin, ascending. The caller owns the slice.
func Limits() []float64 { return append([]float64(nil), limits[:]...) }

// Names returns the words for grades 0 to 4. The caller owns the slice.
func Names() []string { return append([]string(nil), names[:]...) }

// Of returns the grade of a deposit index, 0 to 100, nil for one that was not measured. The index and the ends of its
// interval count as they are written, to hundredths: whoever reads a result finds the grade that belongs to its index.
//
// The grade is borderline when the ends of the interval lie in different grades. An end that was not measured rules
// nothing out, so it makes the grade borderline.
func Of(index measure.Figure) *Grade {
	if !index.Known() {
		return nil
	}
	value := place(index.Value)
	known := !math.IsNaN(index.Low) && !math.IsNaN(index.High)
	return &Grade{
		Value:      value,
		Name:       names[value],
		Borderline: !known || place(index.Low) != place(index.High),
		Scale:      Scale,
	}
}

// place counts the limits that index has reached.
func place(index float64) int {
	index = number.Shown(index, 2)
	value := 0
	for value < len(limits) && index >= limits[value] {
		value++
	}
	return value
}

// Reach returns the lowest and the highest grade that the 95 % interval of a deposit index reaches; it must be measured.
func Reach(index measure.Figure) (lowest, highest int) {
	return Of(measure.Exactly(index.Low)).Value, Of(measure.Exactly(index.High)).Value
}
