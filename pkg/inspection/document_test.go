package inspection_test

import (
	"bytes"
	"encoding/json"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"valvegrade/pkg/inspection"
)

func TestWrittenFormMeetsItsSchema(t *testing.T) {
	i, err := inspection.Parse("inspection.yaml", []byte(whole))
	require.NoError(t, err)
	for name, shots := range map[string][]inspection.Shot{
		"measured": {shot(1, 1, 30, 4, 0.2, 0.9), shot(1, 1, 34, 4, 0.2, 0.9), refused(3, 2)},
		"nothing":  {refused(1, 1)},
	} {
		e, err := inspection.Combine(i, shots)
		require.NoError(t, err)
		text, err := json.Marshal(e)
		require.NoError(t, err)
		document, err := jsonschema.UnmarshalJSON(bytes.NewReader(text))
		require.NoError(t, err)
		assert.NoError(t, compile(t, inspection.Schema).Validate(document), name)
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

func compile(t *testing.T, text []byte) *jsonschema.Schema {
	t.Helper()
	document, err := jsonschema.UnmarshalJSON(bytes.NewReader(text))
	require.NoError(t, err)
	c := jsonschema.NewCompiler()
	require.NoError(t, c.AddResource("schema.json", document))
	schema, err := c.Compile("schema.json")
	require.NoError(t, err)
	return schema
}
