package schema_test

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"valvegrade/internal/schema"
)

func TestCheck(t *testing.T) {
	definition := []byte(`{"type": "object", "required": ["grade"]}`)
	assert.NoError(t, schema.Check(definition, []byte(`{"grade": 2}`)))
	assert.Error(t, schema.Check(definition, []byte(`{}`)), "breaks the schema")
	assert.Error(t, schema.Check(definition, []byte(`{`)), "no JSON")
	assert.Error(t, schema.Check([]byte(`{`), []byte(`{}`)), "no schema")
	assert.Error(t, schema.Check([]byte(`{"type": 7}`), []byte(`{}`)), "not a JSON Schema")
}

func TestWhatIsWrittenTodayHasTheKeysOfLaterVersions(t *testing.T) {
	definition := []byte(`{"properties": {"valves": {"items": {"required": ["grade"],
		"$comment": "also written, but not by earlier versions: dark, due"}}}}`)
	for text, today := range map[string]bool{
		`{"valves": [{"grade": 2, "dark": 30, "due": null}]}`: true, `{"valves": [{"grade": 2, "dark": 30}]}`: false, `{"valves": [{"grade": 2}]}`: false,
	} {
		assert.NoError(t, schema.Check(definition, []byte(text)), text)
		assert.Equal(t, today, schema.CheckToday(definition, []byte(text)) == nil, text)
	}
	assert.Error(t, schema.CheckToday(definition, []byte(`{"valves": [{"dark": 30, "due": 0.5}]}`)), "what all versions write is required, too")
	assert.Error(t, schema.CheckToday([]byte(`{`), []byte(`{}`)), "no schema")
}

func TestReferencesHoldInAnyFolder(t *testing.T) {
	folder := filepath.Join(t.TempDir(), "with a blank")
	require.NoError(t, os.Mkdir(folder, 0o755))
	t.Chdir(folder)
	definition := []byte(`{"$ref": "#/$defs/grade", "$defs": {"grade": {"type": "integer"}}}`)
	assert.NoError(t, schema.Check(definition, []byte(`2`)))
	assert.Error(t, schema.Check(definition, []byte(`"two"`)))
}
