package grade

import "valvegrade/pkg/measure"

// Grade is a place on the scale.
type Grade struct {
	// Value is 0 to 4.
	Value int
	// Name is the word for it: bare, film, patchy, crusted, caked.
	Name string
	// Borderline is true when the probability of this grade is below Clear.
	Borderline bool
	// Scale is the version of the scale.
	Scale int
	// Probabilities are those of all grades.
	Probabilities Probabilities
}

// Written is a grade among the keys of a document that embeds it; null for nothing.
type Written struct {
	Grade      *int    `json:"grade"`
	GradeName  *string `json:"grade_name"`
	Borderline *bool   `json:"borderline"`
	// Probabilities of the grades 0 to 4, sum 1 but for rounding; null in results of versions that had none.
	Probabilities []measure.Number `json:"probabilities"`
	// Due is the probability that cleaning is due.
	Due measure.Number `json:"due"`
}

// probabilityDecimals are those of written probabilities.
const probabilityDecimals = 4

// Write returns the written form, of nil that of nothing. It holds copies.
func (g *Grade) Write() Written {
	if g == nil {
		return Written{}
	}
	w := Written{Grade: new(g.Value), GradeName: new(g.Name), Borderline: new(g.Borderline)}
	if g.Probabilities.Known() {
		for _, p := range g.Probabilities {
			w.Probabilities = append(w.Probabilities, measure.Rounded(p, probabilityDecimals))
		}
		w.Due = measure.Rounded(g.Probabilities.Due(), probabilityDecimals)
	}
	return w
}

// Odds reads the probabilities of the written form, which are unknown in results of versions that had none.
func (w Written) Odds() Probabilities {
	if len(w.Probabilities) != Grades {
		return Probabilities{}
	}
	var p Probabilities
	for value, n := range w.Probabilities {
		p[value] = n.Value()
	}
	return p
}
