package engine_test

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"valvegrade/internal/schema"
	"valvegrade/pkg/engine"
	"valvegrade/pkg/inspection"
)

func TestWrittenFormMeetsItsSchema(t *testing.T) {
	i, err := inspection.Parse("inspection.yaml", []byte(facts))
	require.NoError(t, err)
	for name, shots := range map[string][]engine.Shot{
		"measured": {shot(1, 1, 30, 4, 0.2, 0.9), shot(1, 1, 34, 4, 0.2, 0.9), refused(2, 2)},
		"nothing":  {refused(1, 1)},
	} {
		e, err := engine.Combine(i, shots)
		require.NoError(t, err)
		text, err := json.Marshal(e)
		require.NoError(t, err)
		assert.NoError(t, schema.CheckToday(engine.Schema, text), name)
	}
}

// Figures of a saved inspection are not read, but one that nobody measures tells that the file is none.
func TestIntervalsTurnedRoundAreRefused(t *testing.T) {
	paths, err := filepath.Glob("../../testdata/history/*.json")
	require.NoError(t, err)
	text, err := os.ReadFile(paths[0])
	require.NoError(t, err)
	var saved map[string]any
	require.NoError(t, json.Unmarshal(text, &saved))
	i := saved["inspection"].(map[string]any)
	cylinder := i["cylinders"].([]any)[0].(map[string]any)
	valve := cylinder["valves"].([]any)[0].(map[string]any)
	photo := valve["photos"].([]any)[0].(map[string]any)
	for name, figures := range map[string]map[string]any{
		"worst": i["worst"].(map[string]any), "median": i["median"].(map[string]any), "cylinder": cylinder, "valve": valve, "photo": photo,
	} {
		low, high := figures["index_low"], figures["index_high"]
		require.NotEqual(t, low, high)
		figures["index_low"], figures["index_high"] = high, low
		turned, err := json.Marshal(saved)
		require.NoError(t, err)
		_, err = engine.Read(bytes.NewReader(turned))
		require.ErrorIs(t, err, engine.ErrDocument, name)
		assert.ErrorContains(t, err, "the ends of an interval are turned round", name)
		figures["index_low"], figures["index_high"] = low, high
	}
	whole, err := json.Marshal(saved)
	require.NoError(t, err)
	_, err = engine.Read(bytes.NewReader(whole))
	assert.NoError(t, err)
}

func TestUnmeasuredIsNullInJSON(t *testing.T) {
	text, err := json.Marshal(combined(t, 1, 1, refused(1, 1)))
	require.NoError(t, err)
	for _, key := range []string{"grade", "index", "index_low", "worst_valve", "worst_cylinder", "spread_sd_points", "coverage"} {
		assert.Contains(t, string(text), `"`+key+`":null`)
	}
	assert.NotContains(t, string(text), `"index":0`)
}
