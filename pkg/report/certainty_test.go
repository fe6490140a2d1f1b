package report

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"valvegrade/internal/report/texts"
	"valvegrade/pkg/deposit"
	"valvegrade/pkg/grade"
	"valvegrade/pkg/measure"
)

// A valve caked with a thin coat is to be cleaned as one of grade 3, not before all else.
func TestPracticeOfAThinCoat(t *testing.T) {
	m := build(t, inputOf(t, "before"))
	caked := &grade.Grade{Value: 4, Probabilities: grade.Probabilities{0, 0, 0.01, 0.14, 0.85}}
	assert.Contains(t, m.decision(caked, deposit.Thick), "clean before chasing misfires elsewhere")
	assert.Contains(t, m.decision(caked, deposit.Unknown), "clean before chasing misfires elsewhere")
	assert.Contains(t, m.decision(caked, deposit.Thin), "plan a cleaning")

	in := inputOf(t, "before")
	in.Visits[0].Engine.Cylinders[0].BuildUp = deposit.Thin
	in.Visits[0].Engine.Cylinders[0].Grades = caked.Probabilities
	in.Visits[0].Engine.Cylinders[0].Index = measure.Figure{Value: 80, Low: 70, High: 90}
	assert.Contains(t, strings.Join(build(t, in).Cylinders[0].Lines, " "), "plan a cleaning")
}

// Of what cannot be told it must be plain what the probability is of.
func TestAnOpenDecisionSaysWhatIsLikely(t *testing.T) {
	open := &grade.Grade{Value: 2, Probabilities: grade.Probabilities{0, 0, 0.65, 0.35, 0}}
	for language, said := range map[string]string{
		"en-US": "Whether cleaning is due cannot be told (that it is: 35 % likely)",
		"de-DE": "Ob eine Reinigung ansteht, ist nicht zu sagen (dass sie ansteht: zu 35 % wahrscheinlich)",
	} {
		in := inputOf(t, "before")
		in.Locale = language
		assert.Contains(t, build(t, in).decision(open, deposit.Unknown), said)
	}
}

func TestPageShowsHowLikelyEachGradeIsAndTheBuildUp(t *testing.T) {
	for language, said := range map[string][2]string{
		"en-US": {"How likely each grade is: grade 3 crusted 99\u00a0%.", "Build-up: thick"},
		"de-DE": {"Wie wahrscheinlich jeder Grad ist: Grad 3 verkrustet 99\u00a0%.", "Schicht: dick"},
	} {
		in := inputOf(t, "before")
		in.Locale = language
		m := build(t, in)
		page := written(t, m.WriteHTML)
		assert.Contains(t, page, `role="img" aria-label="`+said[0]+`"`)
		assert.Equal(t, 1, strings.Count(page, "<span>"+said[1]+"</span>"))
		assert.Equal(t, 3, strings.Count(page, `<svg class="steps"`), "of each graded valve")
	}
}

func TestStepsAreAsHighAsTheGradesAreLikely(t *testing.T) {
	m := build(t, inputOf(t, "before"))
	r := m.Cylinders[0].Valves[0].States[0].Reading
	r.Grade = &grade.Grade{Value: 3, Probabilities: grade.Probabilities{0, 0.004, 0.096, 0.5, 0.4}}
	bars := page{Model: m, T: m.Texts}.steps(r)
	require.Len(t, bars, grade.Grades)
	assert.Equal(t, bar{"3", 36, 12, 12}, bars[3])
	assert.Equal(t, 1.5, bars[0].Height, "still to be seen")
	assert.Equal(t, "How likely each grade is: grade 2 patchy 10\u00a0%, grade 3 crusted 50\u00a0%, grade 4 caked 40\u00a0%.", m.StepsAlt(r))
	assert.Nil(t, m.Steps(Reading{}))
}

func TestOfNextToNoDepositNobodyAsksHowThickItIs(t *testing.T) {
	m := &Model{Texts: &texts.English}
	state := State{BuildUp: deposit.Unknown}
	state.Dark = measure.Figure{Value: 4.9}
	assert.Empty(t, m.BuildUpLine(state))
	state.Dark.Value = 5
	state.Used = 1
	assert.Equal(t, "Build-up: thick or thin, the photo does not tell", m.BuildUpLine(state))
	state.Used = 2
	assert.Equal(t, "Build-up: thick or thin, the photos do not tell", m.BuildUpLine(state))
	state.BuildUp = ""
	assert.Empty(t, m.BuildUpLine(state))
}
