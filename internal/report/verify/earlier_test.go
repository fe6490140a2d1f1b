package verify

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"valvegrade/internal/schema"
	"valvegrade/pkg/compare"
	"valvegrade/pkg/engine"
	"valvegrade/pkg/report"
	"valvegrade/pkg/score"
)

// The reports in testdata were written by earlier versions of schema 1: one of the first, which knew one valve a photo and
// no dark deposit, and one of the last that wrote no locale. What the program reads keeps the schemas, too.
func TestReportsOfEarlierVersionsKeepTheSchemas(t *testing.T) {
	for name, lacks := range map[string][]string{
		"first": {"locale", "workshop", "valve_in_photo", "dark", "due", "build_up"}, "without-locale": {"locale", "workshop"},
	} {
		text, err := os.ReadFile(filepath.Join("testdata", name+".report.json"))
		require.NoError(t, err)
		for _, key := range lacks {
			assert.False(t, bytes.Contains(text, []byte(`"`+key+`":`)), "%s of %s", key, name)
		}
		saved, err := Read(bytes.NewReader(text))
		require.NoError(t, err, name)
		assert.Len(t, saved.Photos, 2, name)

		assert.NoError(t, schema.Check(report.Schema, text), name)
		var written struct {
			Inspections []json.RawMessage
			Comparison  json.RawMessage
		}
		require.NoError(t, json.Unmarshal(text, &written))
		require.Len(t, written.Inspections, 2, name)
		assert.NoError(t, schema.Check(compare.Schema, written.Comparison), name)
		for _, graded := range written.Inspections {
			assert.NoError(t, schema.Check(score.Schema, graded), name)
			var part struct{ Inspection json.RawMessage }
			require.NoError(t, json.Unmarshal(graded, &part))
			assert.NoError(t, schema.Check(engine.Schema, part.Inspection), name)
		}
	}
}
