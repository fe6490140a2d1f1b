package engine_test

import (
	"bytes"
	"encoding/json"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"valvegrade/internal/schema"
	"valvegrade/pkg/engine"
	"valvegrade/pkg/inspection"
	"valvegrade/pkg/score"
)

const facts = `vehicle: fleet-17
engine: {cylinders: 2, valves: 2}
date: 2026-03-14
odometer: 72760.5 km
stage: after
methods: {2: solvent and brush}
notes: oil <5 L
photos:
  - {file: c2v1.jpg, cylinder: 2, valve: 1}
  - {file: more/c1v2.jpg, cylinder: 1, valve: 2}
  - {file: c1v1.jpg, cylinder: 1, valve: 1}
  - {file: again.jpg, cylinder: 1, valve: 1}
`

// results are the photos of facts in the engine's order; the last one is refused.
const results = `{"schema": 1, "version": "1+net.0", "photos": [
 {"photo": "in/c1v1.jpg", "width": 640, "height": 480, "status": "scored", "grade": 2, "grade_name": "patchy", "borderline": false, "shares": {},
  "index": 32.51, "index_low": 28, "index_high": 37, "coverage": 75, "coverage_low": 70, "coverage_high": 80, "pixels": 61441, "unreadable": 0.253, "region_confidence": 0.9},
 {"photo": "in/again.jpg", "width": 641, "height": 480, "status": "scored", "grade": 2, "grade_name": "patchy", "borderline": false, "shares": {},
  "index": 36.07, "index_low": 28, "index_high": 39, "coverage": 75, "coverage_low": 70, "coverage_high": 80, "pixels": 51441, "unreadable": 0.1, "region_confidence": 0.7},
 {"photo": "in/more/c1v2.jpg", "status": "scored", "grade": 3, "grade_name": "crusted", "borderline": true, "shares": {},
  "index": 41, "index_low": 35, "index_high": 46, "coverage": 90, "coverage_low": 85, "coverage_high": 95},
 {"photo": "in/c2v1.jpg", "status": "refused", "reasons": [{"code": "blurred", "advice": "wipe the lens"}]}
]}`

// scored returns the document of facts and results.
func scored(t *testing.T) *engine.Graded {
	t.Helper()
	i, err := inspection.Parse("inspection.yaml", []byte(facts))
	require.NoError(t, err)
	photos, err := score.ReadDocument(strings.NewReader(results))
	require.NoError(t, err)
	d, err := engine.Of(i, photos)
	require.NoError(t, err)
	return d
}

func written(t *testing.T, d *engine.Graded) string {
	t.Helper()
	var text bytes.Buffer
	require.NoError(t, d.Write(&text))
	return text.String()
}

func TestSavedDocumentReadsBackTheSame(t *testing.T) {
	d := scored(t)
	text := written(t, d)
	back, err := engine.Read(strings.NewReader(text))
	require.NoError(t, err)
	assert.Equal(t, d.Engine.Inspection, back.Engine.Inspection)
	assert.Equal(t, d.Photos, back.Photos)
	assert.Equal(t, text, written(t, back), "the figures are combined from the same rounded results")
	assert.Equal(t, 41.0, back.Engine.Worst.Value)
}

func TestBelowNamesPhotosByTheirFiles(t *testing.T) {
	d := scored(t)
	text := written(t, d)
	for n, p := range d.Below("may/").Photos {
		assert.Equal(t, "may/"+d.Engine.Inspection.Photos[n].File, p.Photo)
	}
	assert.Equal(t, text, written(t, d), "the document itself names them as they were given")
}

func TestSavedDocumentIsAlsoADocumentOfPhotos(t *testing.T) {
	text := written(t, scored(t))
	photos, err := score.ReadDocument(strings.NewReader(text))
	require.NoError(t, err)
	assert.Len(t, photos.Photos, 4)

	var keys map[string]json.RawMessage
	require.NoError(t, json.Unmarshal([]byte(text), &keys))
	assert.NoError(t, schema.CheckToday(engine.Schema, keys["inspection"]))
}

// Each row changes one piece of a good document and names what Read must say about it.
func TestReadRefusesWhatIsNoInspection(t *testing.T) {
	whole := written(t, scored(t))
	for _, row := range []struct {
		old, new string
		want     error
		says     string
	}{
		{whole, results, engine.ErrPhotosOnly, ""},
		{whole, strings.Replace(results, `"photos"`, `"inspection": null, "photos"`, 1), engine.ErrPhotosOnly, ""},
		{whole, "photos:", score.ErrDocument, ""},
		{whole, `{"schema": 1, "status": "compared", "verdict": null}`, score.ErrDocument, "valvegrade compare wrote it"},
		{`"inspection": {`, `"inspection": 3, "was": {`, engine.ErrDocument, "it does not hold what belongs there"},
		{`"stage": "after"`, `"stage": 3`, engine.ErrDocument, `"stage" does not hold what belongs there`},
		{`"scale": 1,`, `"scale": 2,`, engine.ErrDocument, "scale 2"},
		{`"vehicle": "fleet-17"`, `"vehicle": ""`, engine.ErrDocument, "vehicle"},
		{`"date": "2026-03-14"`, `"date": "14.3.2026"`, engine.ErrDocument, `date "14.3.2026"`},
		{`"odometer": 72760.5`, `"odometer": -1`, engine.ErrDocument, "odometer -1"},
		{`"odometer_unit": "km"`, `"odometer_unit": "m"`, engine.ErrDocument, `unit "m"`},
		{`"stage": "after"`, `"stage": "later"`, engine.ErrDocument, `stage "later"`},
		{`"cylinder": 2,` + "\n" + `        "method": "solvent`, `"cylinder": 3, "method": "solvent`, engine.ErrDocument, "method for cylinder 3 of 2"},
		{`"valve": 2,`, `"valve": 3,`, engine.ErrDocument, "not numbered from 1"},
		{`"photo": "more/c1v2.jpg"`, `"photo": "../c1v2.jpg"`, engine.ErrDocument, `photo "../c1v2.jpg" is not inside the folder`},
		{`"photo": "more/c1v2.jpg"`, `"photo": "c1v1.jpg"`, engine.ErrDocument, `photo "c1v1.jpg" stands twice`},
		{`"photo": "in/c1v1.jpg"`, `"photo": "in/c9v9.jpg"`, engine.ErrDocument, `"in/c9v9.jpg", where the inspection has "c1v1.jpg"`},
	} {
		require.Contains(t, whole, row.old)
		_, err := engine.Read(strings.NewReader(strings.Replace(whole, row.old, row.new, 1)))
		assert.ErrorIs(t, err, row.want, "%.60q", row.new)
		if row.says != "" {
			assert.ErrorContains(t, err, row.says)
		}
	}
}

func TestReadWantsWhoLeftAPhotoOutAndWhy(t *testing.T) {
	whole := written(t, scored(t))
	for left, says := range map[string]string{
		`{}`: "left out without name or reason", `{"by": "Ann", "reason": ""}`: "left out without name or reason", `{"by": "Ann", "reason": "smeared"}`: "",
	} {
		_, err := engine.Read(strings.NewReader(strings.Replace(whole, `"photo": "c1v1.jpg",`, `"photo": "c1v1.jpg", "left_out": `+left+`,`, 1)))
		if says == "" {
			assert.NoError(t, err)
			continue
		}
		assert.ErrorIs(t, err, engine.ErrDocument)
		assert.ErrorContains(t, err, says)
	}
}

func FuzzRead(f *testing.F) {
	i, err := inspection.Parse("inspection.yaml", []byte(facts))
	require.NoError(f, err)
	photos, err := score.ReadDocument(strings.NewReader(results))
	require.NoError(f, err)
	d, err := engine.Of(i, photos)
	require.NoError(f, err)
	var text bytes.Buffer
	require.NoError(f, d.Write(&text))
	f.Add(text.Bytes())
	f.Add([]byte(results))
	f.Fuzz(func(t *testing.T, text []byte) {
		d, err := engine.Read(bytes.NewReader(text))
		if err != nil {
			return
		}
		again, err := engine.Read(strings.NewReader(written(t, d)))
		require.NoError(t, err, "what Read lets through can be saved and read again")
		assert.Equal(t, d.Photos, again.Photos)
	})
}
