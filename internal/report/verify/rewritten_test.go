package verify_test

import (
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"valvegrade/pkg/report"
)

// Whatever a report was written for, it is written the same again.
func TestSentencesFollowFromThePhotos(t *testing.T) {
	for name, in := range map[string]report.Input{
		"American": {}, "British": {Locale: "en-GB"}, "Swiss": {Locale: "de-CH", Unit: "km"}, "numbers only": {Locale: "fr"}, "German": {Locale: "deu"},
		"workshop": {Workshop: true},
	} {
		for _, inspections := range [][]string{{"before"}, {"after"}, {"before", "after"}} {
			assert.Empty(t, rewritten(t, written(t, in, fresh, inspections...)), "%s, %q", name, inspections)
		}
	}
}

// Nobody words a report anew: "no sure change" must not become "clean".
func TestForgedSentencesAreFound(t *testing.T) {
	both, one := reportText(t), written(t, report.Input{}, fresh, "before")
	for name, c := range map[string]struct{ text, pattern, forged, says string }{
		"summary":             {both, `"summary": "[^"]*"`, `"summary": "All valves are clean."`, "summary is not what"},
		"summary of one":      {one, `"summary": "[^"]*"`, `"summary": "All valves are clean."`, "summary is not what"},
		"one word of a line":  {both, `"lines": \[\s*"Cylinder 1:`, `"lines": ["Cylinder 2:`, "cylinders[0].lines[0] is not what"},
		"a line more":         {one, `"lines": \[`, `"lines": ["clean",`, "cylinders[0].lines is not what"},
		"a caution taken out": {both, `"cautions": \[\s*"[^"]*",`, `"cautions": [`, "cautions is not what"},
		"a caution softened":  {both, `"cautions": \[\s*"[^"]*",`, `"cautions": ["All is well.",`, "cautions[0] is not what"},
		"notes taken out":     {both, `"notes": \[[^\]]*\],\s*"cautions"`, `"notes": [], "cautions"`, "notes is not what"},
		"another language":    {both, `"locale": "en-US"`, `"locale": "de-DE"`, "cautions[0] is not what"},
		"no language":         {both, `"locale": "en-US"`, `"locale": "-"`, "is not a language tag"},
		"for others":          {both, `"workshop": false`, `"workshop": true`, "cylinders[1].lines[4] is not what"},
		"no day":              {both, `"date": "2026-03-16"`, `"date": "tomorrow"`, "is no day"},
		"a key more":          {both, `"summary":`, `"finding": "All valves are clean.", "summary":`, "finding is nothing that the program writes"},
		"a key of a valve":    {both, `"outcome":`, `"finding": "clean", "outcome":`, ".finding is nothing that the program writes"},
		"a key in capitals":   {one, `"summary":`, `"Summary": "All valves are clean.", "summary":`, "Summary is nothing that the program writes"},
		"another version":     {both, `"version": "[^"]*"`, `"version": "0.0"`, "only that version can check its sentences"},
	} {
		pattern := regexp.MustCompile(c.pattern)
		place := pattern.FindStringIndex(c.text)
		require.NotNil(t, place, name)
		assert.Contains(t, rewritten(t, c.text[:place[0]]+c.forged+c.text[place[1]:]), c.says, name)
	}
}

// Whoever reads the text reads the first of two, the program the last.
func TestAKeyThatStandsTwiceIsFound(t *testing.T) {
	var inspection strings.Builder
	require.NoError(t, document(t, "before").Write(&inspection))
	for _, text := range []string{
		strings.Replace(reportText(t), `"summary":`, `"summary": "All valves are clean.", "summary":`, 1),
		strings.Replace(inspection.String(), `"worst_cylinder":`, `"worst_cylinder": 2, "worst_cylinder":`, 1),
	} {
		assert.Equal(t, []string{"a key stands twice in one object: one of them was put in"}, read(t, text).Faults)
	}
}

func TestOnlyReportsHaveSentences(t *testing.T) {
	var text strings.Builder
	require.NoError(t, document(t, "before").Write(&text))
	saved := read(t, text.String())
	assert.False(t, saved.Tells())
	assert.False(t, saved.Compares())
	faults, err := saved.Rewrite(nil)
	assert.NoError(t, err)
	assert.Empty(t, faults)
}
