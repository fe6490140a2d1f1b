package grade

import (
	"valvegrade/internal/number"
	"valvegrade/pkg/measure"
)

// Scale is the version of the scale below. The scale never changes silently: other limits or names are another version.
const Scale = 1

// Clear is the probability below which a grade is borderline.
const Clear = 0.80

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

// Of returns the grade of a deposit index, 0 to 100, nil for one that was not measured. The index counts as it is
// written, to hundredths: whoever reads a result finds the grade that belongs to its index.
//
// Probabilities that are not known are those of the interval. The grade is borderline when its own probability is below
// Clear, or not known.
func Of(index measure.Figure, p Probabilities) *Grade {
	if !index.Known() {
		return nil
	}
	if !p.Known() {
		p = OfInterval(index)
	}
	value := place(index.Value)
	return &Grade{
		Value:         value,
		Name:          names[value],
		Borderline:    !(p[value] >= Clear),
		Scale:         Scale,
		Probabilities: p,
	}
}

// Place returns the grade that an index lies in, 0 to 4.
func Place(index float64) int { return place(index) }

// Decimals is how many an index needs, 0 to 2, so that who reads it finds the grade that it has: 39.9 rounds to 40, which
// is grade 3.
func Decimals(index float64) int {
	for decimals := range 2 {
		if place(number.Shown(index, decimals)) == place(index) {
			return decimals
		}
	}
	return 2
}

// IndexText writes an index for the eye, the same wherever it is read: whole, unless that would read as another grade's.
func IndexText(index float64) string { return number.Text(index, Decimals(index)) }

// place counts the limits that index has reached.
func place(index float64) int {
	index = number.Shown(index, 2)
	value := 0
	for value < len(limits) && index >= limits[value] {
		value++
	}
	return value
}
