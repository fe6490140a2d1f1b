package yamlguard

import (
	"testing"

	"github.com/goccy/go-yaml/parser"
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
		"%YAML 1.2\n---\nname: a\n":        0,
		"name: a\n---\n# a remark\n":       0,
		"name: |\n  a\n  ---\n  b\nx: y\n": 0,
		"":                                 0,
	} {
		tree, err := parser.ParseBytes([]byte(text), 0)
		require.NoError(t, err, "%q", text)
		assert.Equal(t, want, second(tree), "%q", text)
	}
}
