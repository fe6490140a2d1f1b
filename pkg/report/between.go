package report

import (
	"valvegrade/pkg/compare"
	"valvegrade/pkg/engine"
)

// Headline says in one line what two inspections come to, as the summary of a report on them does: for who shows the
// comparison in a form of their own.
func Headline(l Locale, before, after *engine.Graded, change *compare.Engine) string {
	m := &Model{Texts: l.texts, Locale: l, Between: l.Between(change.Cleaned()), Change: change}
	in := Input{Visits: []Source{{Graded: before}, {Graded: after}}}
	for n, source := range in.Visits {
		m.Visits = append(m.Visits, Visit{Title: m.titleOf(n, len(in.Visits)), Graded: source.Graded})
	}
	for number := range change.Cylinders {
		if in.heard(number+1) != nil {
			m.Cylinders = append(m.Cylinders, in.readings(number+1))
		}
	}
	return m.summarise()
}
