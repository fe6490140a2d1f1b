package compare

import (
	"encoding/json"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"valvegrade/internal/schema"
	"valvegrade/pkg/deposit"
)

// written returns the document as text after it was held against the schema.
func written(t *testing.T, value any) map[string]any {
	t.Helper()
	text, err := json.Marshal(value)
	require.NoError(t, err)
	require.NoError(t, schema.CheckToday(Schema, text), string(text))
	again, err := json.Marshal(value)
	require.NoError(t, err)
	assert.Equal(t, string(text), string(again))
	var keys map[string]any
	require.NoError(t, json.Unmarshal(text, &keys))
	return keys
}

func TestWrittenComparisonsKeepTheSchema(t *testing.T) {
	dirty, clean := plainView(patches).result("a.jpg"), plainView(all(deposit.Bare)).result("b.jpg")
	d := written(t, compareResults(t, dirty, clean, exact))
	assert.Equal(t, "changed", d["verdict"])
	assert.Equal(t, "compared", d["status"])
	assert.Len(t, d["clock"], 12)
	assert.Len(t, d["zones"], 3)
	assert.Equal(t, 1.0, d["removed_share"])

	d = written(t, compareResults(t, dirty, plainView(patches).result("b.jpg"), exact))
	assert.Equal(t, "not distinguishable", d["verdict"])
	assert.Nil(t, d["removed_share"], "nothing is claimed that the verdict does not carry")
	assert.Equal(t, "surface", d["registration"].(map[string]any)["method"])
}

func TestWhatWasNotMeasuredIsNull(t *testing.T) {
	d := written(t, compareResults(t, plainView(patches).result("a.jpg"), refusedResult("b.jpg"), exact))
	assert.Equal(t, "refused", d["status"])
	for _, key := range []string{"verdict", "comparable_share", "registration", "removed_share", "zones", "clock"} {
		value, written := d[key]
		assert.True(t, written, key)
		assert.Nil(t, value, key)
	}
	assert.Nil(t, d["index"].(map[string]any)["difference"])
	assert.Nil(t, d["after"].(map[string]any)["grade"])

	stemless := plainView(all(deposit.Bare))
	stemless.stem = nil
	d = written(t, compareResults(t, plainView(patches).result("a.jpg"), stemless.result("b.jpg"), exact))
	assert.Nil(t, d["clock"])
	assert.Nil(t, d["zones"])
	assert.Equal(t, "outline", d["registration"].(map[string]any)["method"])
}

func TestWrittenInspectionsKeepTheSchema(t *testing.T) {
	b := after(0, 0, 20, 16)
	b.Engine.Inspection.Photos, b.Photos = b.Engine.Inspection.Photos[:3], b.Photos[:3]
	d := written(t, engines(t, before(60, 70, 50, 40), b, exact))
	assert.Equal(t, "changed", d["verdict"])
	two := d["cylinders"].([]any)[1].(map[string]any)
	assert.Equal(t, "hand tools", two["method"])
	valves := two["valves"].([]any)
	assert.Equal(t, "refused", valves[1].(map[string]any)["status"])
	assert.Nil(t, valves[1].(map[string]any)["before"], "no photo on one side leaves no pair")

	delete(b.Engine.Inspection.Methods, 1)
	d = written(t, engines(t, before(60, 70, 50, 40), b, exact))
	assert.Nil(t, d["cylinders"].([]any)[0].(map[string]any)["method"])
}
