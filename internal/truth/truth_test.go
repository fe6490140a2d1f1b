package truth_test

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"valvegrade/internal/truth"
	"valvegrade/pkg/measure"
)

func read(t *testing.T, text string) ([]truth.Entry, error) {
	t.Helper()
	dir := t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(dir, truth.File), []byte(text), 0o644))
	return truth.Read(dir)
}

func TestBothKindsOfSetsAreRead(t *testing.T) {
	photos, err := read(t, `[
		{"photo": "a.jpg", "set": "pairs", "group": "a", "role": "before", "refuse": null, 
		 "view": "bore", "metal": 0, "look": null,
		 "head": {"pixels": 3, "bare": 0.5, "film": 0.25, "medium": 0.25, "heavy": 0, "coverage": 50, "index": 18.75},
		 "stem": null,
		 "both": {"pixels": 3, "bare": 0.5, "film": 0.25, "medium": 0.25, "heavy": 0, "coverage": 50, "index": 18.75}},
		{"photo": "a.jpg", "valve": 2, "refuse": null, "both": {"pixels": 1, "bare": 1, "index": 0, "coverage": 0}},
		{"photo": "b.jpg", "set": "negatives", "refuse": "too-dark", "head": null, "stem": null, "both": null},
		{"photo": "c.jpg", "judgeable": true,
		 "both": {"pixels": 4, "shares": [0.5, 0.25, 0.25, 0], "index": 18.75, "coverage": 50}},
		{"photo": "d.jpg", "judgeable": false, "both": {"pixels": 4, "shares": [1, 0, 0, 0], "index": 0, "coverage": 0}},
		{"photo": "e.jpg", "judgeable": null, "both": {"pixels": 4, "shares": [1, 0, 0, 0], "index": 0, "coverage": 0}},
		{"photo": "f.jpg", "refuse": null, "both": null}]`)
	require.NoError(t, err)
	var demands []truth.Demand
	for _, p := range photos {
		demands = append(demands, p.Demand)
	}
	const judge, refuse, arguable = truth.Judge, truth.Refuse, truth.Arguable
	assert.Equal(t, []truth.Demand{judge, judge, refuse, judge, refuse, arguable, arguable}, demands)
	want := measure.Shares{Bare: 0.5, Film: 0.25, Medium: 0.25}
	assert.Equal(t, want, photos[0].Both.Shares)
	assert.Equal(t, want, photos[3].Both.Shares, "a list of shares")
	assert.Equal(t, "bore 0", photos[0].Look)
	assert.True(t, photos[0].Parts && photos[0].Stem == nil, "the stem is known to be hidden")
	assert.False(t, photos[3].Parts, "nothing is known of the stem")
	assert.Equal(t, []int{1, 2}, []int{photos[0].Valve, photos[1].Valve})
	assert.Equal(t, "too-dark", photos[2].Refuse)
	assert.Equal(t, filepath.Join("set", "a.region.png"), photos[0].Path("set", ".region.png"))
}

func TestListsThatTellNothingAreErrors(t *testing.T) {
	for text, want := range map[string]string{
		`[]`:                      "lists no photo",
		`{}`:                      "truth.json: ",
		`[{"photo": "../a.jpg"}]`: "no file of the folder",
		`[{"set": "single"}]`:     "no file of the folder",
		`[{"photo": "a.jpg", "both": {"shares": [1, 0]}}]`: "shares are not four",
		`[{"photo": "a.jpg", "valve": 128}]`:               "valve 128",
	} {
		_, err := read(t, text)
		assert.ErrorContains(t, err, want, text)
	}
	_, err := truth.Read(t.TempDir())
	assert.ErrorIs(t, err, os.ErrNotExist)
}
