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

// Run is one grade, or several in a row.
type Run struct{ From, To int }

// String is "4", "0 to 3".
func (r Run) String() string {
	if r.From == r.To {
		return fmt.Sprint(r.From)
	}
	return fmt.Sprintf("%d to %d", r.From, r.To)
}

// telling is what the grade of the index and the likeliest one must hold together for the two to tell what there is to
// expect.
const telling = 0.5

// Perhaps returns what is named beside the grade in which the index lies, and whether anything is. The index is a mean
// over all that the photo may mean, and where that is lopsided, its grade is not the likeliest: one then says "3, perhaps
// 4", never that 3 alone is in doubt. Where the two together are not even as likely as not, the likeliest alone would hide
// all others, and a run of grades is named, "1, perhaps 0 to 3": the shortest that contains both and holds at least Clear,
// of equally short ones the likeliest.
func (g *Grade) Perhaps() (run Run, another bool) {
	p, likeliest := g.Probabilities, g.Probabilities.Likeliest()
	switch {
	case !(p[likeliest] > p[g.Value]):
		return Run{g.Value, g.Value}, false
	case p[likeliest]+p[g.Value] >= telling:
		return Run{likeliest, likeliest}, true
	}
	return p.shortest(min(likeliest, g.Value), max(likeliest, g.Value)), true
}

// shortest returns the shortest run that contains two grades, the lower one first, and holds at least Clear.
func (p Probabilities) shortest(low, high int) Run {
	best, holds := Run{0, Grades - 1}, 1.0
	for from := low; from >= 0; from-- {
		share := p.AtLeast(from)
		for to := Grades - 1; to >= high; to-- {
			length, least := to-from, best.To-best.From
			if share >= Clear && (length < least || length == least && share > holds) {
				best, holds = Run{from, to}, share
			}
			share -= p[to]
		}
	}
	return best
}

// Words name the grade, and what else it may be where another is likelier: "crusted", "crusted, perhaps 4".
func (g *Grade) Words() string {
	if run, another := g.Perhaps(); another {
		return fmt.Sprintf("%s, perhaps %s", g.Name, run)
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
