package engine_test

import (
	"encoding/json"
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

func TestUnmeasuredIsNullInJSON(t *testing.T) {
	text, err := json.Marshal(combined(t, 1, 1, refused(1, 1)))
	require.NoError(t, err)
	for _, key := range []string{"grade", "index", "index_low", "worst_valve", "worst_cylinder", "spread_sd_points", "coverage"} {
		assert.Contains(t, string(text), `"`+key+`":null`)
	}
	assert.NotContains(t, string(text), `"index":0`)
}
