package main

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"valvegrade/pkg/grade"
	"valvegrade/pkg/measure"
	"valvegrade/pkg/score"
)

// Whoever is told to clean a valve is told where the cautions are.
func TestScoringTellsOfTheCautionsWhereCleaningIsDue(t *testing.T) {
	said := func(status score.Status, odds grade.Probabilities) string {
		r := score.Record{Status: status}
		for _, p := range odds {
			r.Probabilities = append(r.Probabilities, measure.Rounded(p, 4))
		}
		var out strings.Builder
		require.NoError(t, showCautionsIfDue(&out, []score.Record{{Status: score.Refused}, r}))
		return out.String()
	}
	due := grade.Probabilities{0, 0, 0.02, 0.58, 0.4}
	assert.Equal(t, "\nBefore cleaning read the cautions: valvegrade compare --help\n", said(score.Scored, due))
	assert.Empty(t, said(score.Scored, grade.Probabilities{0.98, 0.02, 0, 0, 0}))
	assert.Empty(t, said(score.Refused, due))
}

// Commands that write about work on an engine carry all cautions in their help.
func TestHelpOfWhatDescribesWorkHasAllCautions(t *testing.T) {
	for name, help := range map[string]string{
		"compare": compareCommand().Description, "report": reportCommand().Description, "archive history": archiveHistoryCommand().Description,
	} {
		assert.Contains(t, help, cautions, name)
	}
}
