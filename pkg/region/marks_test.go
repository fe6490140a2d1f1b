package region

import (
	"encoding/json"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"go.yaml.in/yaml/v4"

	"valvegrade/internal/schema"
)

const whole = `head:
  centre: [320, 250.5]
  axes: [120, 180]     # semi-axes
  angle: 12
stem:
  from: [300, 20]
  to: [318, 190]
  width: 44
`

func TestParseMarks(t *testing.T) {
	m, err := ParseMarks([]byte(whole))
	require.NoError(t, err)
	assert.Equal(t, &Marks{Head: Ellipse{320, 250.5, 180, 120, 102}, Stem: &Line{300, 20, 318, 190, 44}}, m)

	m, err = ParseMarks([]byte("head: {centre: [1, 2], axes: [30, 20], angle: 0}"))
	require.NoError(t, err)
	assert.Nil(t, m.Stem, "the stem may be hidden")
}

// badMarks feed the fuzzer too.
var badMarks = map[string]struct{ text, message string }{
	"empty":   {"", "line 1: head is missing"},
	"a word":  {"valve", `line 1: entries such as "name: value" belong here`},
	"a list":  {"- 1", `line 1: entries such as "name: value" belong here`},
	"no head": {"stem: {from: [1, 2], to: [3, 4], width: 5}", "line 1: head is missing"},
	"unknown key": {
		"head:\n  centre: [1, 2]\n  colour: red",
		`line 3: unknown field "colour": head takes centre: [x, y]`,
	},
	"key twice":         {"head:\n  angle: 1\n  angle: 2", `line 3: "angle" stands twice, first in line 2`},
	"no centre":         {"# marks\nhead:\n  axes: [30, 20]\n  angle: 0", "line 2: head needs centre"},
	"three axes":        {strings.Replace(whole, "[120, 180]", "[1, 2, 3]", 1), "line 3: head needs axes"},
	"no angle":          {"head:\n  centre: [1, 2]\n  axes: [30, 20]", "line 1: head needs an angle"},
	"axis zero":         {strings.Replace(whole, "180", "0", 1), "line 1: head: semi-axes"},
	"not a number":      {strings.Replace(whole, "320", ".nan", 1), "line 1: head: centre"},
	"infinite":          {strings.Replace(whole, "180", ".inf", 1), "line 1: head: centre"},
	"text for number":   {strings.Replace(whole, "320", "left", 1), "line 2: a single value belongs here"},
	"no far end":        {strings.Replace(whole, "  from: [300, 20]\n", "", 1), "line 5: stem needs from"},
	"half an end":       {strings.Replace(whole, "[318, 190]", "[318]", 1), "line 7: stem needs to"},
	"no width":          {strings.Replace(whole, "  width: 44\n", "", 1), "line 5: stem needs a width"},
	"no length":         {strings.Replace(whole, "[318, 190]", "[300, 20]", 1), "line 5: stem: the two ends"},
	"negative width":    {strings.Replace(whole, "44", "-44", 1), "line 5: stem: width"},
	"broken YAML":       {"head: [1, 2", "line 1: "},
	"two documents":     {whole + "---\n" + whole, "line 10: what stands from here on"},
	"a tab":             {strings.Replace(whole, "  axes", "\taxes", 1), "line 3: a tab stands where only blanks may"},
	"Latin-1":           {"# K\xe4fer\n" + whole, "not a text in UTF-8"},
	"larger than 256 K": {strings.Repeat("# long\n", 40000) + whole, "larger than"},
}

func TestParseMarksRefuses(t *testing.T) {
	for name, c := range badMarks {
		_, err := ParseMarks([]byte(c.text))
		require.ErrorIs(t, err, ErrMarks, name)
		assert.ErrorContains(t, err, c.message, name)
		assert.NotContains(t, err.Error(), "\n", "%s: the library draws the text below its own words", name)
	}
}

func TestByteOrderMarkIsNoPartOfTheFirstKey(t *testing.T) {
	m, err := ParseMarks([]byte("\uFEFF" + strings.ReplaceAll(whole, "\n", "\r\n")))
	require.NoError(t, err)
	assert.NotNil(t, m.Stem)
}

func FuzzParseMarks(f *testing.F) {
	f.Add([]byte(whole))
	for _, c := range badMarks {
		f.Add([]byte(c.text))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		m, err := ParseMarks(data)
		if err != nil {
			assert.ErrorIs(t, err, ErrMarks)
			return
		}
		require.NoError(t, m.Head.validate())
		if m.Check(64, 48) == nil {
			assert.NotZero(t, len(m.draw(64, 48).Pix))
		}
	})
}

func TestReadMarks(t *testing.T) {
	photo := filepath.Join(t.TempDir(), "valve 1.jpg")
	_, err := ReadMarks(MarksPath(photo))
	require.ErrorIs(t, err, fs.ErrNotExist)
	require.NoError(t, os.WriteFile(photo+".marks.yaml", []byte(whole), 0o600))
	m, err := ReadMarks(MarksPath(photo))
	require.NoError(t, err)
	assert.InDelta(t, 44, m.Stem.Width, 0)
	require.NoError(t, os.WriteFile(photo+".marks.yaml", []byte("head:"), 0o600))
	_, err = ReadMarks(MarksPath(photo))
	require.ErrorIs(t, err, ErrMarks)
	assert.ErrorContains(t, err, "valve 1.jpg.marks.yaml", "the file is named")
}

func TestSchemaOfMarks(t *testing.T) {
	assert.NoError(t, schema.Check(MarksSchema, asJSON(t, whole)))
	for _, name := range []string{"empty", "a list", "no head", "unknown key", "no centre", "three axes", "axis zero", "no angle", "text for number", "no width", "negative width"} {
		assert.Error(t, schema.Check(MarksSchema, asJSON(t, badMarks[name].text)), name)
	}
	var example struct{ Examples []json.RawMessage }
	require.NoError(t, json.Unmarshal(MarksSchema, &example))
	require.Len(t, example.Examples, 1)
	assert.NoError(t, schema.Check(MarksSchema, example.Examples[0]))
	_, err := ParseMarks(example.Examples[0]) // JSON is YAML, too
	assert.NoError(t, err)
}

func asJSON(t *testing.T, text string) []byte {
	t.Helper()
	var said any
	if text != "" {
		require.NoError(t, yaml.Load([]byte(text), &said))
	}
	converted, err := json.Marshal(said)
	require.NoError(t, err)
	return converted
}

func TestFindMarks(t *testing.T) {
	for _, c := range []struct {
		photo, want string
		files       []string
	}{
		{"IMG_0023.JPG", "IMG_0023.JPG.marks.yaml", []string{"IMG_0023.JPG.marks.yaml", "IMG_0023.marks.yaml"}},
		{"IMG_0023.JPG", "img_0023.jpg.MARKS.YAML", []string{"img_0023.jpg.MARKS.YAML", "IMG_0023.marks.yaml"}},
		{"IMG_0023.JPG", "IMG_0023.marks.yaml", []string{"IMG_0023.marks.yaml", "img_0023.marks.yaml"}},
		{"IMG_0023.JPG", "img_0023.marks.yaml", []string{"img_0023.marks.yaml"}},
		{"IMG_0023.JPG", "", []string{"IMG_0024.marks.yaml", "IMG_0023.yaml", "IMG_00233.marks.yaml"}},
	} {
		dir := t.TempDir()
		for _, file := range c.files {
			require.NoError(t, os.WriteFile(filepath.Join(dir, file), nil, 0o600))
		}
		if c.want != "" {
			c.want = filepath.Join(dir, c.want)
		}
		assert.Equal(t, c.want, FindMarks(filepath.Join(dir, c.photo)))
	}
	assert.Empty(t, FindMarks(filepath.Join(t.TempDir(), "nowhere", "a.jpg")))
	t.Chdir(t.TempDir())
	require.NoError(t, os.WriteFile("a.marks.yaml", nil, 0o600))
	assert.Equal(t, "a.marks.yaml", FindMarks("a.jpg"))
}

func TestStrayMarks(t *testing.T) {
	dir := t.TempDir()
	for _, file := range []string{"a.jpg.marks.yaml", "a.marks.yaml", "B.Marks.yaml", "c.marks.yaml", "d.yaml"} {
		require.NoError(t, os.WriteFile(filepath.Join(dir, file), nil, 0o600))
	}
	stray, err := StrayMarks(dir, []string{"a.jpg", "b.png"})
	require.NoError(t, err)
	assert.Equal(t, []string{"a.marks.yaml", "c.marks.yaml"}, stray)
}

func TestParseFlags(t *testing.T) {
	e, err := ParseEllipse("320, 240.5,120,180,-10")
	require.NoError(t, err)
	assert.Equal(t, Ellipse{320, 240.5, 180, 120, 80}, e)
	l, err := ParseStem("1,2,3,4,5")
	require.NoError(t, err)
	assert.Equal(t, Line{1, 2, 3, 4, 5}, l)
	for _, text := range []string{"", "1,2,3", "1,2,3,4,5,6", "1,2,3,x,5", "1,2,0,4,5", "NaN,2,3,4,5", "1,2,+Inf,4,5", "1,,3,4,5"} {
		_, err := ParseEllipse(text)
		require.ErrorIs(t, err, ErrMarks, text)
		assert.ErrorContains(t, err, `"`+text+`"`, "the message repeats what was typed")
	}
	for _, text := range []string{"1,2,1,2,5", "1,2,3,4,0", "1,2,3,4"} {
		_, err := ParseStem(text)
		assert.ErrorIs(t, err, ErrMarks, text)
	}
}

func TestCheckMarks(t *testing.T) {
	good := Marks{Head: Ellipse{320, 240, 180, 120, 0}, Stem: &Line{300, 20, 318, 190, 44}}
	assert.NoError(t, good.Check(640, 480))
	for name, change := range map[string]func(*Marks){
		"far to the right":    func(m *Marks) { m.Head.X = 1300 },
		"just outside":        func(m *Marks) { m.Head.X = 640 + 180 },
		"larger than a photo": func(m *Marks) { m.Head.A = 801 },
		"no axis":             func(m *Marks) { m.Head.B = 0 },
		"stem far below":      func(m *Marks) { m.Stem = &Line{300, 20, 300, 961, 44} },
		"stem too wide":       func(m *Marks) { m.Stem = &Line{300, 20, 300, 190, 801} },
		"stem without length": func(m *Marks) { m.Stem = &Line{300, 20, 300, 20, 44} },
	} {
		m := good
		change(&m)
		assert.ErrorIs(t, m.Check(640, 480), ErrMarks, name)
	}
}

const several = `by: "Ann"
head: {centre: [120, 200], axes: [60, 40], angle: 12}
stem: {from: [100, 20], to: [118, 190], width: 44}
others:
  - head: {centre: [420, 200], axes: [60, 40], angle: 0}
    stem: {from: [440, 20], to: [422, 190], width: 44}
  - head: {centre: [720, 200], axes: [60, 40], angle: 0}
find_others: true
`

func TestMarksOfSeveralValves(t *testing.T) {
	m, err := ParseMarks([]byte(several))
	require.NoError(t, err)
	require.Len(t, m.Others, 2)
	assert.Equal(t, Outline{Ellipse{420, 200, 60, 40, 0}, &Line{440, 20, 422, 190, 44}}, m.Others[0])
	assert.Nil(t, m.Others[1].Stem)
	assert.True(t, m.FindOthers)
	text, err := m.Write()
	require.NoError(t, err)
	assert.Equal(t, several, string(text))
	assert.NoError(t, schema.Check(MarksSchema, asJSON(t, several)))

	require.NoError(t, m.Check(800, 400))
	require.ErrorContains(t, m.Check(600, 400), "head: lies outside the photo of 600x400 pixels")
	half := m.Shrunk(2)
	assert.InDelta(t, 209.75, half.Others[0].Head.X, 1e-9)
	assert.InDelta(t, 22, half.Others[0].Stem.Width, 1e-9)
	assert.True(t, half.FindOthers)

	for text, message := range map[string]string{
		"others: [{head: {centre: [1, 2], axes: [3, 4], angle: 0}}]":                                                                "line 1: head is missing",
		strings.Replace(several, "[420, 200]", "[420]", 1):                                                                          "line 5: head needs centre",
		strings.Replace(several, "[440, 20]", "[422, 190]", 1):                                                                      "line 6: stem: the two ends",
		strings.Replace(several, "  - head: {centre: [720", "  - {}\n  - head: {centre: [720", 1):                                   "line 7: head is missing",
		several + "painted: []\nother: 1":                                                                                           "line 10: unknown field",
		strings.Replace(several, "find_others: true", strings.Repeat("  - head: {centre: [1, 2], axes: [3, 4], angle: 0}\n", 6), 1): "line 4: others has more than 7 outlines",
	} {
		_, err := ParseMarks([]byte(text))
		require.ErrorIs(t, err, ErrMarks, text)
		assert.ErrorContains(t, err, message)
	}
}
