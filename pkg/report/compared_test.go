package report

import (
	"encoding/csv"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"valvegrade/pkg/compare"
	"valvegrade/pkg/reason"
)

// The photos say 60 before and 1 after; without maps they are compared as a whole.
func TestComparisonTellsWhatWentAway(t *testing.T) {
	m := build(t, inputOf(t, "before", "after"))
	c := m.Cylinders[0].Valves[0].Comparison
	assert.Equal(t, compare.Changed, c.Index.Verdict())
	assert.Contains(t, m.ComparisonFacts(c), Fact{"Index removed", "98\u00a0% (92 to 100)"})
	assert.Contains(t, m.ComparisonFacts(c), Fact{"Dark deposit removed", "99\u00a0% (93 to 100)"})
	assert.Equal(t, 60.0, c.Index.Before.Value)
	assert.Equal(t, 1.0, c.Index.After.Value)
	assert.Contains(t, c.Outcome, "dark deposit 70\u00a0% before, 1\u00a0% after: 99\u00a0% removed")
	assert.Contains(t, c.Outcome, "; index 60 before, 1 after.")
}

// With photos that say little, a share removed would contradict the sentence that nothing shows.
func TestNoShareIsRemovedWhereNoChangeShows(t *testing.T) {
	for sem, words := range map[float64]string{
		21.3: "no sure change; only one of more than 70 points of dark deposit or 60 points of the index would be sure",
		23:   "no sure change; only one of more than 60 points of the index would be sure", // no more dark deposit can go
		80:   "too wide to show any change",                                                // nothing that can go or come would
	} {
		in := inputOf(t, "before", "after")
		in.Compare.Repeatability = &compare.Repeatability{
			Index: compare.Precision{SEM: min(sem, 21.3) * max(1, sem/40)}, Dark: compare.Precision{SEM: 1.17 * sem},
		}
		m := build(t, in)
		c := m.Cylinders[0].Valves[0].Comparison
		require.Equal(t, compare.NotDistinguishable, c.Verdict())
		assert.Contains(t, c.Outcome, words)
		for _, fact := range m.ComparisonFacts(c) {
			assert.NotContains(t, fact.Name, "removed")
		}
		lines, err := csv.NewReader(strings.NewReader(written(t, m.WriteCSV))).ReadAll()
		require.NoError(t, err)
		assert.Empty(t, lines[1][slices.Index(lines[0], "removed_percent")])
	}
}

// Without maps whole valves are compared: nothing may say that it was on what both photos show.
func TestComparisonOfWholeValvesSaysSo(t *testing.T) {
	m := build(t, inputOf(t, "before", "after"))
	c := m.Cylinders[0].Valves[0].Comparison
	require.True(t, c.Whole())
	assert.Contains(t, c.Outcome, "On all that the two photos show")
	assert.Equal(t, "Before and after", m.ComparisonTitle(c))
	assert.Equal(t, "Dark deposit before", m.ComparisonFacts(c)[0].Name)

	c.Comparable = 0.9
	assert.Equal(t, "Before and after, on what both photos show", m.ComparisonTitle(c))
	assert.Contains(t, m.ComparisonFacts(c), Fact{"Seen in both photos", "90\u00a0%"})
}

func TestCylinderSaysWhatWasCompared(t *testing.T) {
	m := build(t, inputOf(t, "before", "after"))
	valve := func(number int, compared bool, common float64) compare.Valve {
		return compare.Valve{Number: number, Comparison: &compare.Comparison{Compared: compared, Common: common}}
	}
	none := math.NaN()
	for says, valves := range map[string][]compare.Valve{
		"mean of its valves, on what their photos before and after both show": {valve(1, true, 0.9), valve(2, true, 0.8)},
		"mean of its valves, on all that their photos show":                   {valve(1, true, none), valve(2, true, none)},
		"mean of its valves": {valve(1, true, none), valve(2, true, 0.8)},
		"valve 2, on what its photos before and after both show": {valve(1, false, none), valve(2, true, 0.8)},
		"valve 1, on all that its photos show":                   {valve(1, true, none), valve(2, false, none)},
	} {
		assert.Equal(t, says, m.compared(compare.Cylinder{Valves: valves}))
	}
}

// Growth has an interval like every other figure.
func TestMoreDepositIsToldWithItsInterval(t *testing.T) {
	in := inputOf(t, "before", "after")
	in.Visits[0].Photos[0], in.Visits[1].Photos[0] = in.Visits[1].Photos[0], in.Visits[0].Photos[0]
	c := build(t, in).Cylinders[0].Valves[0].Comparison
	assert.Regexp(
		t,
		`dark deposit 1\x{a0}% before, 70\x{a0}% after: 69 points more than before \(95 % interval \d+ to \d+\); index 1 before, 60 after\.$`,
		c.Outcome,
	)
}

// Each cylinder says in plain words what is to be done now, and why nothing could be compared.
func TestLinesOfACylinderBeforeAndAfter(t *testing.T) {
	in := inputOf(t, "before", "after")
	lines := build(t, in).Cylinders
	assert.Contains(t, lines[0].Lines, "After cleaning: Nothing is to be done: 99\u00a0% likely. Common practice: nothing to do; look again at the next service.")
	assert.Contains(t, lines[1].Lines, "Cylinder 2 was not compared: c2v1.jpg (out of focus): choose another photo of this valve, or retake it if the valve is still as it was; "+
		"the second inspection has no photo of it.")
	assert.Contains(t, build(t, in).Notes, "photograph every valve at each inspection")
	in.Locale = "de-DE"
	lines = build(t, in).Cylinders
	assert.Contains(t, lines[0].Lines, "Nach der Reinigung: Es ist nichts zu tun: zu 99\u00a0% wahrscheinlich. Üblich ist: nichts zu tun; beim nächsten Service wieder ansehen.")
	assert.Contains(t, lines[1].Lines, "Zylinder 2 wurde nicht verglichen: c2v1.jpg (unscharf): ein anderes Foto dieses Ventils wählen, oder es neu aufnehmen, wenn das Ventil noch ist, "+
		"wie es war; die zweite Prüfung hat kein Foto davon.")
	assert.Contains(t, build(t, in).Notes, "jedes Ventil bei jeder Prüfung fotografieren")
}

// A photo that was refused takes its valve out of what its cylinder is held against, not only out of the mean.
func TestOneValveIsNeverHeldAgainstAnother(t *testing.T) {
	in := inputOf(t, "before", "after")
	i := in.Visits[0].Engine.Inspection
	records := slices.Clone(in.Visits[0].Photos)
	records[0] = records[0].Refuse(reason.Of(reason.NoValve)) // cylinder 1 valve 1, the worst
	in.Visits[0] = sourceOf(t, i, records)
	in.Workshop = false
	m := build(t, in)
	one, two := m.Cylinders[0], m.Cylinders[1]
	assert.Equal(t, []int{2}, one.Common)
	before, after := one.Valves[1].States[0].Index, one.Valves[1].States[1].Index
	assert.Equal(t, before, one.Readings[0].Index, "valve 2 before")
	assert.Equal(t, after, one.Readings[1].Index, "and valve 2 after")
	assert.Contains(t, one.Lines[0], "Cylinder 1, valve 2: grade ")
	assert.Contains(t, strings.Join(one.Lines, "\n"), "After cleaning: Cylinder 1: grade ", "what all valves say is told beside it")
	assert.Contains(t, m.Summary, " after (1 of 4 valves).")
	assert.Contains(t, m.TableKey(), "graded at both inspections alone: Cylinder 1, valve 2. Cylinder 2: other valves were graded")

	// Of cylinder 2 one valve was graded before and the other after: there is no change to tell.
	assert.NotNil(t, two.Common)
	assert.Empty(t, two.Common)
	assert.NotContains(t, strings.Join(two.Lines, "\n"), "before cleaning, grade")
	text := written(t, m.WriteText)
	assert.Contains(t, text, "\nAfter cleaning: Cylinder 2, valve 2: not graded: no photo.\n")

	in.Locale = "de-DE"
	assert.Contains(t, build(t, in).Summary, "(1 von 4 Ventilen)")
}
