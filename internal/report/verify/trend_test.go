package verify_test

import (
	"encoding/json"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"valvegrade/pkg/engine"
	"valvegrade/pkg/inspection"
	"valvegrade/pkg/report"
)

// history are earlier inspections of the engine, with fewer deposits.
func history(t *testing.T) []*engine.Engine {
	t.Helper()
	var earlier []*engine.Engine
	for n, odometer := range []float64{20000, 30000} {
		d := document(t, "before")
		d.Engine.Inspection.Odometer.Value, d.Engine.Inspection.Stage = odometer, inspection.Routine
		d.Engine.Inspection.Date = time.Date(2023+n, 1, 1, 0, 0, 0, 0, time.UTC)
		earlier = append(earlier, d.Engine)
	}
	return earlier
}

// Growth follows from the readings, and those of the report's own inspections from these.
func TestForgedGrowthIsFound(t *testing.T) {
	text := written(t, report.Input{History: history(t)}, fresh, "before", "after")
	require.True(t, read(t, text).Trend)
	assert.Empty(t, rewritten(t, text))

	at := strings.Index(text, `"trend": {`)
	require.Positive(t, at)
	for name, c := range map[string][3]string{
		"growth":          {`"points": `, `"points": 9`, "points does not follow from its readings"},
		"name":            {`"name": "worst cylinder"`, `"name": "best cylinder"`, "series[0].name does not follow"},
		"missing":         {`"missing": "`, `"missing": "no `, "missing does not follow"},
		"a key more":      {`"readings": [`, `"finding": "clean", "readings": [`, "finding is nothing that the program writes"},
		"another vehicle": {`"vehicle": "fleet-17"`, `"vehicle": "fleet-18"`, "it is of another vehicle"},
		"no line":         {`"readings": [`, `"readings": [{}, `, "this is no trend"},
	} {
		rest := text[at:]
		require.Contains(t, rest, c[0], name)
		faults := rewritten(t, text[:at]+strings.Replace(rest, c[0], c[1], 1))
		assert.Contains(t, faults, c[2], name)
	}

	// A reading of the report's own inspection, with whatever follows from it.
	var whole map[string]any
	require.NoError(t, json.Unmarshal([]byte(text), &whole))
	all := whole["trend"].(map[string]any)["series"].([]any)
	valve := all[slices.IndexFunc(all, func(s any) bool { return s.(map[string]any)["name"] == "cylinder 1 valve 1" })].(map[string]any)
	readings := valve["lines"].([]any)[0].(map[string]any)["readings"].([]any)
	own := readings[len(readings)-1].(map[string]any)
	require.Equal(t, "2026-03-14", own["date"])
	own["index"], own["index_high"] = own["index"].(float64)+1, 100
	forged, err := json.Marshal(whole)
	require.NoError(t, err)
	assert.Contains(t, rewritten(t, string(forged)), "growth over the odometer: cylinder 1 valve 1 does not read what the inspection of 2026-03-14 does")
}
