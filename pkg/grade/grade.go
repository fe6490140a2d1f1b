package grade

import (
	"fmt"

	"valvegrade/pkg/measure"
)

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

// Perhaps returns the likeliest grade where that is another than the one in which the index lies, and whether it is. The
// index is a mean over all that the photo may mean, and where that is lopsided, its grade is not the likeliest: one then
// says "3, perhaps 4", never that 3 alone is in doubt.
func (g *Grade) Perhaps() (likeliest int, another bool) {
	likeliest = g.Probabilities.Likeliest()
	return likeliest, g.Probabilities[likeliest] > g.Probabilities[g.Value]
}

// Words name the grade, and the likeliest one where that is another: "crusted", "crusted, perhaps 4".
func (g *Grade) Words() string {
	if likeliest, another := g.Perhaps(); another {
		return fmt.Sprintf("%s, perhaps %d", g.Name, likeliest)
	}
	return g.Name
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
