package texts

import (
	"fmt"

	"valvegrade/pkg/grade"
)

// Grade is a row of the scale. %s in Practice takes a distance.
type Grade struct{ Name, ReadsAs, Practice string }

// GradeName writes a grade with its doubt: "grade 2 patchy", "grade 2 patchy (not certain)", "grade 3 crusted (perhaps
// 4)".
func (t *Texts) GradeName(g *grade.Grade) string {
	name := fmt.Sprintf(t.GradeOf, g.Value, t.Grades[g.Value].Name)
	if doubt := t.Doubt(g); doubt != "" {
		return name + " (" + doubt + ")"
	}
	return name
}

// Doubt says that a grade is not certain, or which one is likelier; "" for a clear one.
func (t *Texts) Doubt(g *grade.Grade) string {
	if run, another := g.Perhaps(); another {
		if run.From < run.To {
			return fmt.Sprintf(t.PerhapsRun, run.From, run.To)
		}
		return fmt.Sprintf(t.Perhaps, run.From)
	}
	if g.Borderline {
		return t.Borderline
	}
	return ""
}

// GradeNames are the words for grades 0 to 4.
func (t *Texts) GradeNames() []string {
	names := make([]string, len(t.Grades))
	for value, g := range t.Grades {
		names[value] = g.Name
	}
	return names
}
