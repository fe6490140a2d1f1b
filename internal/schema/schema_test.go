package schema_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

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
