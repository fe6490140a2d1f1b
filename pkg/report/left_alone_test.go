package report

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// A cylinder without a method, where others have one, was left alone: every format says so, and nothing was removed from
// it, whatever its photos show.
func TestCylinderLeftAloneIsSaidEverywhere(t *testing.T) {
	in := inputOf(t, "before", "after")
	last := in.Visits[1]
	last.Engine.Inspection.Methods = map[int]string{2: "hand tools"}
	in.Visits[1], in.Workshop = sourceOf(t, last.Engine.Inspection, last.Photos), false
	m := build(t, in)
	assert.Contains(t, m.Summary, "Before and after were not compared", "cylinder 1 does not count, 2 has no pair")
	assert.Contains(t, m.Summary, "Cylinder 1: left alone, not counted here.")
	assert.Equal(t, []string{"left alone", "hand tools"}, []string{m.CleanedBy(m.Cylinders[0]), m.CleanedBy(m.Cylinders[1])})
	assert.Contains(t, m.Cylinders[0].Lines, "Cylinder 1 was left alone.")
	assert.NotContains(t, m.TableKey(), "of all valves,")
	assert.Contains(t, m.ShownNotes(), "cylinder 1 was not cleaned and differs all the same between the two inspections: "+
		"the photos may show different places, or cylinders were mixed up")
	for _, fact := range m.ComparisonFacts(m.Cylinders[0].Valves[0].Comparison) {
		assert.NotContains(t, fact.Name, "removed")
	}
	assert.NotContains(t, m.Cylinders[0].Valves[0].Comparison.Outcome, "removed")

	assert.Contains(t, written(t, m.WriteHTML), ">left alone</td>")
	assert.Contains(t, written(t, m.WriteText), "Note: cylinder 1 was not cleaned")
	assert.Regexp(t, `(?s)"cylinder": 1,\s+"method": "",\s+"left_alone": true`, written(t, m.WriteJSON))

	in.Locale, in.Texts = "de-DE", nil
	m = build(t, in)
	assert.Contains(t, m.Summary, "Zylinder 1: nicht gereinigt, hier nicht mitgezählt.")
	assert.Equal(t, "nicht gereinigt", m.CleanedBy(m.Cylinders[0]))
	assert.Contains(t, m.ShownNotes()[0], "Zylinder 1 wurde nicht gereinigt und ist trotzdem anders")
}

func TestNobodyIsLeftAloneWhereNoMethodIsNamed(t *testing.T) {
	in := inputOf(t, "before", "after")
	in.Visits[1].Engine.Inspection.Methods = nil
	m := build(t, in)
	assert.Contains(t, m.Summary, "The cleaning helped")
	assert.NotContains(t, written(t, m.WriteHTML), "left alone")
	assert.NotContains(t, written(t, m.WriteJSON), "left_alone")
}
