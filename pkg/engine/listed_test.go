package engine_test

import (
	"encoding/json"
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"valvegrade/internal/schema"
	"valvegrade/pkg/engine"
	"valvegrade/pkg/inspection"
	"valvegrade/pkg/reason"
	"valvegrade/pkg/score"
)

// seen returns the records of a photo's valves from left to right, of which each takes so many pixels; one of 0 pixels
// is refused.
func seen(t *testing.T, photo string, pixels ...int) []score.Record {
	t.Helper()
	records := make([]score.Record, len(pixels))
	for n, size := range pixels {
		text := fmt.Sprintf(
			`{"photo": %q, "valve_in_photo": %d, "valves_in_photo": %d, "sha256": %q, "version": "1+net.0", "label": %q,`,
			"in/"+photo,
			n+1,
			len(pixels),
			photo,
			photo,
		)
		if size == 0 {
			text += `"status": "refused", "reasons": [{"code": "blurred", "advice": "wipe the lens"}]}`
		} else {
			text += fmt.Sprintf(`"status": "scored", "grade": 2, "grade_name": "patchy", "borderline": false, "shares": {}, "pixels": %d,
				"index": %d, "index_low": 0, "index_high": 100, "coverage": 50, "coverage_low": 0, "coverage_high": 100}`, size, n+1)
		}
		require.NoError(t, json.Unmarshal([]byte(text), &records[n]))
	}
	return records
}

func TestListedValvesAreTheLargestFromLeftToRight(t *testing.T) {
	for name, c := range map[string]struct {
		places int
		pixels []int
		want   []int // places in the photo
	}{
		"one of one":        {1, []int{5}, []int{1}},
		"both":              {2, []int{5, 9}, []int{1, 2}},
		"the larger":        {1, []int{5, 9}, []int{2}},
		"as large":          {1, []int{9, 9}, []int{1}},
		"two of three":      {2, []int{9, 3, 8}, []int{1, 3}},
		"the judged one":    {1, []int{0, 9}, []int{2}},
		"one of two judged": {2, []int{0, 9}, []int{1, 2}},
	} {
		var got []int
		for _, r := range engine.Listed(c.places, seen(t, "a.jpg", c.pixels...)) {
			got = append(got, r.ValveInPhoto)
		}
		assert.Equal(t, c.want, got, name)
	}
}

func TestFewerValvesThanListedAreRefused(t *testing.T) {
	for _, r := range engine.Listed(2, seen(t, "a.jpg", 5)) {
		assert.Equal(t, score.Refused, r.Status)
		require.Len(t, r.Reasons, 1)
		assert.Equal(t, reason.FewerValves, r.Reasons[0].Code)
		assert.Contains(t, r.Reasons[0].Advice, "inspection.yaml lists it for 2 valves, and it shows 1")
		assert.Nil(t, r.Grade)
		assert.False(t, r.Index.Known(), "which valve it is of is not known")
		assert.Equal(t, "a.jpg", *r.SHA256)
		assert.Equal(t, []int{1, 1}, []int{r.ValveInPhoto, r.ValvesInPhoto})
	}
	assert.Equal(t, reason.FewerValves, engine.Listed(3, seen(t, "a.jpg", 5, 0))[0].Reasons[0].Code)
	assert.Equal(
		t,
		reason.Blurred,
		engine.Listed(2, seen(t, "a.jpg", 0))[1].Reasons[0].Code,
		"its own refusal says more",
	)
}

const severalFacts = `vehicle: fleet-17
engine: {cylinders: 2, valves: 2}
date: 2026-03-14
odometer: 1 mi
stage: routine
photos:
  - {file: cyl1.jpg, cylinder: 1, valves: [2, 1]}
  - {file: c2v1.jpg, cylinder: 2, valve: 1}
  - {file: c2v2.jpg, cylinder: 2, valve: 2}
`

// several returns an inspection in which the first photo shows what it is listed for, and the second a valve more.
func several(t *testing.T) *engine.Graded {
	t.Helper()
	i, err := inspection.Parse("inspection.yaml", []byte(severalFacts))
	require.NoError(t, err)
	records := append(append(seen(t, "cyl1.jpg", 7, 8), seen(t, "c2v1.jpg", 5, 9)...), seen(t, "c2v2.jpg", 4)...)
	g, err := engine.Of(i, &score.Document{Schema: score.SchemaVersion, Version: "1+net.0", Photos: records})
	require.NoError(t, err)
	return g
}

func TestEachValveTakesItsPlaceInThePhoto(t *testing.T) {
	g := several(t)
	index := func(cylinder, valve int) float64 { return g.Engine.Cylinders[cylinder-1].Valves[valve-1].Index.Value }
	assert.Equal(
		t,
		[]float64{2, 1, 2, 1},
		[]float64{index(1, 1), index(1, 2), index(2, 1), index(2, 2)},
		"the index is the place here",
	)
	require.Len(t, g.Photos, 4)
	assert.Equal(
		t,
		[]string{
			`more valves in view than listed, of which the largest count: "c2v1.jpg"; to count all of a cylinder, list them ` +
				`from left to right, such as valves: [1, 2]`,
		},
		g.Engine.Notes,
	)
}

func TestInspectionWithSeveralValvesReadsBack(t *testing.T) {
	g := several(t)
	text := written(t, g)
	again, err := engine.Read(strings.NewReader(text))
	require.NoError(t, err)
	assert.Equal(t, text, written(t, again))
	assert.Equal(t, g.Engine.Inspection.Photos, again.Engine.Inspection.Photos)
	inspected, err := json.Marshal(g.Engine)
	require.NoError(t, err)
	assert.NoError(t, schema.CheckToday(engine.Schema, inspected))
	assert.Equal(t, 2, strings.Count(text, `"from_left"`), "only where a photo is listed for several")

	for name, change := range map[string][2]string{
		"stands twice":      {`"from_left": 2,`, `"from_left": 1,`},
		"gap":               {`"from_left": 2,`, `"from_left": 3,`},
		"twice for a valve": {`"from_left": 1,`, ``},
	} {
		require.Contains(t, text, change[0])
		_, err := engine.Read(strings.NewReader(strings.Replace(text, change[0], change[1], 1)))
		assert.ErrorIs(t, err, engine.ErrDocument, name)
		assert.ErrorContains(t, err, `"cyl1.jpg" stands twice`, name)
	}
}

func TestManyPhotosWithMoreValvesMakeOneNote(t *testing.T) {
	var shots []engine.Shot
	for n := range 5 {
		s := shot(1, 1, 30, 4, 0.2, 0.9)
		s.File, s.ValvesInPhoto = fmt.Sprintf("%d.jpg", n), 2
		shots = append(shots, s)
	}
	notes := combined(t, 1, 1, shots...).Notes
	require.Len(t, notes, 1)
	assert.Contains(t, notes[0], `"0.jpg", "1.jpg", "2.jpg" and 2 more; to count`)
}
