package main

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"valvegrade/pkg/grade"
	"valvegrade/pkg/measure"
)

// believing is a graded valve with this true index and these probabilities of its grades.
func believing(actual float64, p grade.Probabilities) valve {
	v := graded("a", "", "", "", actual, actual, grade.Place(actual))
	v.record.Borderline = new(p[grade.Place(actual)] < grade.Clear)
	for _, one := range p {
		v.record.Probabilities = append(v.record.Probabilities, measure.Rounded(one, 4))
	}
	return v
}

func TestWhatBeliefsAreWorth(t *testing.T) {
	valves := []valve{
		believing(80, grade.Probabilities{0, 0, 0, 0.5, 0.5}), // due, and so it is
		believing(30, grade.Probabilities{0, 0, 0, 0.1, 0.9}), // due, and it is not
		believing(0, grade.Probabilities{0.8, 0.2, 0, 0, 0}),  // nothing to do, rightly
		believing(20, grade.Probabilities{0.5, 0.5, 0, 0, 0}), // the same, wrongly
		believing(20, grade.Probabilities{0, 0.5, 0.5, 0, 0}), // not yet due
		believing(20, grade.Probabilities{0, 0, 0.5, 0.5, 0}), // cannot say
		graded("a", "", "", "", 20, 20, 2),                    // of a version that had none
	}
	got := keyed(beliefs(valves))
	for key, want := range map[string]float64{
		"grade_brier": (0.5 + 1.82 + 0.08 + 1.5 + 0.5 + 0.5) / 6, "borderline_percent": 500. / 6,
		"decided_percent": 500. / 6, "decided_right_percent": 60,
	} {
		require.NotNil(t, got[key], key)
		assert.InDelta(t, want, *got[key], 1e-4, key)
	}
}

func TestReliabilityTellsOfTenthsWithEnough(t *testing.T) {
	var valves []valve
	for range 20 {
		valves = append(valves, believing(80, grade.Probabilities{0, 0, 0, 0.75, 0.25}))
		valves = append(valves, believing(50, grade.Probabilities{0, 0, 0, 0.75, 0.25}))
	}
	var lines []string
	for _, line := range reliability(valves) {
		lines = append(lines, strings.Join(strings.Fields(line), " "))
	}
	assert.Equal(t, []string{"said, was so 0.00 0.00 120", "said, was so 0.25 0.50 40", "said, was so 0.75 0.50 40"}, lines)
	assert.Empty(t, reliability(valves[:5]))
}
