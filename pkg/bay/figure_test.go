package bay

import (
	"encoding/json"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"valvegrade/pkg/deposit"
	"valvegrade/pkg/grade"
	"valvegrade/pkg/measure"
	"valvegrade/pkg/reason"
)

func TestFigureTellsWhatTheGradesDecide(t *testing.T) {
	reading := measure.Reading{
		Index: measure.Figure{Value: 80, Low: 60, High: 95}, Dark: measure.Figure{Value: 90, Low: 80, High: 97},
		Coverage: measure.Unmeasured(),
	}
	f := figureOf(reading, grade.Probabilities{0, 0, 0.01, 0.14, 0.85}, deposit.Thick)
	assert.Equal(t, 4, *f.Grade)
	assert.Equal(t, grade.CleaningDue, f.Decision)
	assert.InDelta(t, 0.99, f.Certainty.Value(), 1e-9)
	assert.Equal(t, 4, *f.Practice)
	assert.False(t, f.Borderline)
	assert.Equal(t, 90.0, f.Dark.Value())
	thin := figureOf(reading, grade.Probabilities{0, 0, 0.01, 0.14, 0.85}, deposit.Thin)
	assert.Equal(t, 3, *thin.Practice, "a thin coat is no reason to blast")

	open := figureOf(reading, grade.Probabilities{0, 0, 0.4, 0.5, 0.1}, "")
	assert.Equal(t, grade.CannotSay, open.Decision)
	assert.Nil(t, open.Practice)
	assert.True(t, open.Borderline)
	assert.Equal(t, 3, *open.Perhaps)
	assert.Nil(t, open.PerhapsTo)
	nearly := figureOf(reading, grade.Probabilities{0, 0, 0.103, 0.497, 0.4}, "")
	assert.Equal(t, 0.89, nearly.Certainty.Value(), "90 % would read as decided")
	wide := figureOf(indexOnly(measure.Exactly(13)), grade.Probabilities{0.35, 0.1, 0.3, 0.21, 0.04}, "")
	assert.Equal(t, []int{0, 3}, []int{*wide.Perhaps, *wide.PerhapsTo})
}

func TestFigureOfNothingMeasured(t *testing.T) {
	f := figureOf(measure.NoReading(), grade.Probabilities{}, "")
	text, err := json.Marshal(f)
	require.NoError(t, err)
	assert.JSONEq(t, `{"grade":null,"name":"", "perhaps":null,"perhaps_to":null,"borderline":false,"dark":null,"dark_low":null,"dark_high":null,"index":null,
		"low":null,"high":null,"probabilities":null,"decision":"","certainty":null,"practice":null,"build_up":""}`, string(text))
	assert.Len(t, figureOf(darkAndIndex(measure.Unmeasured(), measure.Exactly(30)), grade.Probabilities{}, "").Probabilities, 5,
		"where nobody kept probabilities they are those of the interval")
}

// Who has the page in the hand has no command line.
func TestThePageAdvisesNothingToType(t *testing.T) {
	for _, entry := range reason.Table() {
		told := tellReason(reason.With(entry.Code, "found")).Advice
		assert.Equal(t, "found: "+entry.Advice, told)
		assert.NotRegexp(t, `--|valvegrade `, told, entry.Code)
	}
}
