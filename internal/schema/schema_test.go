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

func TestReferencesHoldInAnyFolder(t *testing.T) {
	folder := filepath.Join(t.TempDir(), "with a blank")
	require.NoError(t, os.Mkdir(folder, 0o755))
	t.Chdir(folder)
	definition := []byte(`{"$ref": "#/$defs/grade", "$defs": {"grade": {"type": "integer"}}}`)
	assert.NoError(t, schema.Check(definition, []byte(`2`)))
	assert.Error(t, schema.Check(definition, []byte(`"two"`)))
}
