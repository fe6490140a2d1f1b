package yamlform

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestSecondDocumentIsFound(t *testing.T) {
	for text, want := range map[string]int{
		"name: a\n---\nname: b\n":          3,
		"name: a\n---\n\n\nname: b\n":      5,
		"name: a\n...\nname: b\n":          3,
		"name: a\n---\nb\n---\nc\n":        3,
		"name: a\n---\n":                   0,
		"name: a\n...\n":                   0,
		"# words\n---\nname: a\n":          0,
		"%YAML 1.1\n---\nname: a\n":        0,
		"name: a\n---\n# a remark\n":       0,
		"name: |\n  a\n  ---\n  b\nx: y\n": 0,
		"":                                 0,
	} {
		var form map[string]string
		_, err := Decode([]byte(text), &form)
		if want == 0 {
			assert.NoError(t, err, "%q", text)
			continue
		}
		var fault *Fault
		require.ErrorAs(t, err, &fault, "%q", text)
		assert.Equal(t, want, fault.Line, "%q", text)
		assert.ErrorIs(t, err, errSecond, "%q", text)
	}
}
