package grade

import (
	"fmt"
	"math"

	"valvegrade/internal/number"
)

// Scale is the version of the scale below. The scale never changes silently: other limits or names are another version.
const Scale = 1

// limits are the deposit indices at which grades 1 to 4 begin. A limit belongs to the grade above it: 2 is grade 1.
//
// The steps widen upwards as those of area-percent scales for rust and blisters do: at the clean end a few spots decide whether a
// cleaning worked, at the dirty end the decision to clean has been made long before.
var limits = [...]float64{2, 15, 40, 70}

var names = [...]string{"bare", "film", "patchy", "crusted", "caked"}

// Limits returns the deposit indices at which grades 1 to 4 begin, ascending. The caller owns the slice.
func Limits() []float64 { return append([]float64(nil), limits[:]...) }

// Names returns the words for grades 0 to 4. The caller owns the slice.
func Names() []string { return append([]string(nil), names[:]...) }

// Of returns the grade of a deposit index, 0 to 100, with its 95 % interval from low to high. All three count as they are written, to
// hundredths: whoever reads a result finds the grade that belongs to its index.
//
// The grade is borderline when low and high lie in different grades. An end that was not measured (NaN) rules nothing out, so
// it makes the grade borderline. An index that was not measured has no grade: asking for it is a programming mistake and
// panics.
func Of(index, low, high float64) Grade {
	if math.IsNaN(index) {
		panic(fmt.Sprintf("grade: no grade for an index of %v", index))
	}
	value := place(index)
	known := !math.IsNaN(low) && !math.IsNaN(high)
	return Grade{
		Value:      value,
		Name:       names[value],
		Borderline: !known || place(low) != place(high),
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
