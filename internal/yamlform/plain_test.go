package yamlform

import (
	"testing"

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
		"name: a\nphotos:\n  - file: [":              {3, "a [ or { is not closed as it should be"},
		"photos:\n  - {file: a, name:2}\n":           {2, `a blank is missing behind "name:"`},
		"name: a\nphotos\n  - file: a\n":             {3, "a colon is missing in the line above, or one is too many here: put a value with a colon between quotes"},
		"name: a: b\n":                               {1, "a colon is missing in the line above, or one is too many here: put a value with a colon between quotes"},
		"name:a\nphotos: []\n":                       {1, `a blank is missing behind "name:"`},
		"%YAML 1.2\n---\nname: a\n":                  {1, "leave the line with %YAML out"},
		"name: a\nphotos:\n !0 ":                     {3, "what begins with !, & or * is not read here: put it between quotes"},
		"name: &a b\n":                               {1, "what begins with !, & or * is not read here: put it between quotes"},
		"name: a\nphotos: \x1b[2J\n":                 {2, "a character stands here that no text holds"},
		"name: *b\n":                                 {1, "unknown anchor 'b' referenced"},
		"photos:\n  - file: a\n    no:2\n    x: 3\n": {3, `a blank is missing behind "no:"`},
		"photos:\n  - file: a\n    no:2\n":           {3, `a blank is missing behind "no:"`},
		"photos:\n  - file:a\n    no: 2\n":           {2, `a blank is missing behind "file:"`},
	} {
		var form struct {
			Name   string                  `yaml:"name"`
			Photos []struct{ File string } `yaml:"photos"`
		}
		_, err := Decode([]byte(text), &form)
		var fault *Fault
		require.ErrorAs(t, err, &fault, text)
		assert.Equal(t, want.line, fault.Line, text)
		assert.Equal(t, want.words, fault.Words, text)
	}
}

// The texts on which another library panicked, found by fuzzing inspection.yaml, and such as ask for endless work.
func TestOddTextsAreFaults(t *testing.T) {
	for _, text := range []string{"photos:\n !0 ", "name: &x [*x]", "name: *b", "- a", "name: @a", "name: \"\\q\"", "%YAML 3.0\n---\nname: a"} {
		var form struct {
			Name   string                  `yaml:"name"`
			Photos []struct{ File string } `yaml:"photos"`
		}
		_, err := Decode([]byte(text), &form)
		var fault *Fault
		require.ErrorAs(t, err, &fault, text)
		assert.NotContains(t, fault.Words, "\n")
	}
}

func TestUnknownFieldsAreKnownAsSuch(t *testing.T) {
	_, err := Decode([]byte("colour: red"), new(struct{ Name string }))
	assert.ErrorIs(t, err, ErrUnknownField)
}

func TestOnlyUTF8IsRead(t *testing.T) {
	var form struct{ Name string }
	tree, err := Decode([]byte("\xef\xbb\xbfname: Käfer\r\n"), &form)
	require.NoError(t, err)
	assert.Equal(t, "Käfer", form.Name)
	assert.Equal(t, "name", tree.Content[0].Value, "without the mark in front")
	for name, file := range map[string]string{"Latin-1": "name: K\xe4fer\n", "UTF-16": "\xff\xfen\x00a\x00"} {
		_, err := Decode([]byte(file), &form)
		assert.ErrorIs(t, err, ErrEncoding, name)
	}
}
