package yamlguard

import (
	"errors"
	"testing"

	"github.com/goccy/go-yaml"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Each row is a slip of the pen and what is to be said of it.
func TestFaultsArePlain(t *testing.T) {
	for text, want := range map[string]struct {
		line  int
		words string
	}{
		"name: a\nname: b\n":                         {2, `"name" stands twice, first in line 1`},
		"name: a\nphotos []\n":                       {2, `entries such as "name: value" belong here`},
		"hello":                                      {1, `entries such as "name: value" belong here`},
		"name: a\nphotos: x\n":                       {2, "a list belongs here, each entry after a dash"},
		"name: [a, b]\n":                             {1, "a single value belongs here"},
		"name: a\n\tphotos: b\n":                     {2, "a tab stands where only blanks may"},
		"name: a\ncolour: red\n":                     {2, `unknown field "colour"`},
		"name: a\nphotos:\n  - file: [":              {3, "sequence end token ']' not found"},
		"name:a\nphotos: []\n":                       {1, `a blank is missing behind "name:"`},
		"photos:\n  - file: a\n    no:2\n    x: 3\n": {3, `a blank is missing behind "no:"`},
		"photos:\n  - file: a\n    no:2\n":           {3, `a blank is missing behind "no:"`},
		"photos:\n  - file:a\n    no: 2\n":           {2, `a blank is missing behind "file:"`},
	} {
		var form struct {
			Name   string                  `yaml:"name"`
			Photos []struct{ File string } `yaml:"photos"`
		}
		line, words := plain(guarded(func() error { return yaml.UnmarshalWithOptions([]byte(text), &form, yaml.Strict()) }), []byte(text))
		assert.Equal(t, want.line, line, text)
		assert.Equal(t, want.words, words, text)
	}
	line, words := plain(errors.New("own"), nil)
	assert.Equal(t, 0, line)
	assert.Equal(t, "own", words)
}

func TestOnlyUTF8IsRead(t *testing.T) {
	text, err := textOf([]byte("\xef\xbb\xbfname: Käfer\r\n"))
	require.NoError(t, err)
	assert.Equal(t, "name: Käfer\r\n", string(text), "without the mark in front")
	for name, file := range map[string]string{"Latin-1": "name: K\xe4fer\n", "UTF-16": "\xff\xfen\x00a\x00"} {
		_, err := textOf([]byte(file))
		assert.ErrorIs(t, err, ErrEncoding, name)
	}
}
