package score

import (
	"bytes"
	"encoding/json"
	"runtime"
	"strings"
	"testing"
	"time"

	"valvegrade/internal/schema"
	"valvegrade/pkg/grade"
	"valvegrade/pkg/measure"
	"valvegrade/pkg/reason"
	"valvegrade/pkg/region"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func document(results ...*Result) *Document {
	d := NewDocument("1.2.3+net.0123456789ab")
	for _, r := range results {
		d.Photos = append(d.Photos, r.Record())
	}
	return d
}

func written(t *testing.T, d *Document) []byte {
	t.Helper()
	var text bytes.Buffer
	require.NoError(t, d.Write(&text))
	return text.Bytes()
}

func validate(t *testing.T, text []byte) error {
	t.Helper()
	require.True(t, json.Valid(text), "what is no JSON says nothing about the schema")
	return schema.CheckToday(Schema, text)
}

func TestWrittenDocumentsKeepTheSchema(t *testing.T) {
	withoutStem := scored()
	withoutStem.Deposit.Stem, withoutStem.Region.Axis = nil, nil
	for name, d := range map[string]*Document{
		"scored": document(scored()), "refused": document(refused()), "both": document(scored(), refused()),
		"no stem": document(withoutStem), "empty": document(),
	} {
		assert.NoError(t, validate(t, written(t, d)), name)
	}
}

// The schema must be able to fail: each change below breaks one promise of the contract.
func TestSchemaRefusesBrokenDocuments(t *testing.T) {
	good := string(written(t, document(scored())))
	for _, change := range [][2]string{
		{`"schema": 1`, `"schema": 2`},
		{`"status": "scored"`, `"status": "done"`},
		{`"grade": 2`, `"grade": 5`},
		{`"grade": 2`, `"grade": null`},
		{`"index": 34.57`, `"index": null`},
		{`"index": 34.57`, `"index": 134.57`},
		{`"borderline": false`, `"edge": false`},
		{`"dark": 33.33`, `"dark": null`},
		{`"due": `, `"late": `},
		{`"build_up": "unknown"`, `"build_up": "soft"`},
		{`"taken": "2025-03-09T14:05:07"`, `"taken": "9 March"`},
		{`"region_source": "auto"`, `"region_source": "guess"`},
	} {
		require.Contains(t, good, change[0])
		assert.Error(t, validate(t, []byte(strings.Replace(good, change[0], change[1], 1))), change[1])
	}
}

// Declared keys equal written keys, in the order of the contract.
func TestKeysAreThoseOfTheContract(t *testing.T) {
	var declared struct {
		Defs struct {
			Photo struct {
				Required   []string                   `json:"required"`
				Properties map[string]json.RawMessage `json:"properties"`
			} `json:"photo"`
		} `json:"$defs"`
	}
	require.NoError(t, json.Unmarshal(Schema, &declared))
	got := topKeys(t, written(t, document(scored())))
	assert.Subset(t, got, declared.Defs.Photo.Required)
	assert.Len(
		t,
		declared.Defs.Photo.Properties,
		len(got)+4,
		"outlined_by, painted and painted_by are written only where somebody did so, map where it was asked for",
	)
	outlined := scored()
	outlined.Region.Source, outlined.Region.OutlinedBy = region.ByHand, "Ann"
	byAnn := written(t, document(outlined))
	require.NoError(t, validate(t, byAnn))
	assert.Contains(t, string(byAnn), `"outlined_by": "Ann"`)
	painted := scored()
	painted.Deposit.Painted, painted.Region.PaintedBy = 0.25, "Ann"
	text := written(t, document(painted))
	require.NoError(t, validate(t, text))
	assert.Contains(t, string(text), `"painted": 0.25`)
	assert.Contains(t, string(text), `"painted_by": "Ann"`)
	contract := strings.Fields(
		`photo valve_in_photo valves_in_photo sha256 width height taken status reasons grade grade_name borderline
		probabilities due scale index index_low index_high dark dark_low dark_high coverage coverage_low coverage_high shares build_up
		thick_share thick_share_low thick_share_high thick_probability head stem colour texture region_source region_confidence version`,
	)
	assert.Equal(t, contract, got[:len(contract)])
}

// topKeys returns the keys of the first photo in the order they are written.
func topKeys(t *testing.T, text []byte) []string {
	t.Helper()
	var d struct{ Photos []json.RawMessage }
	require.NoError(t, json.Unmarshal(text, &d))
	decoder := json.NewDecoder(bytes.NewReader(d.Photos[0]))
	_, err := decoder.Token() // the opening brace
	require.NoError(t, err)
	var keys []string
	for decoder.More() {
		key, err := decoder.Token()
		require.NoError(t, err)
		keys = append(keys, key.(string))
		var value json.RawMessage
		require.NoError(t, decoder.Decode(&value))
	}
	return keys
}

func TestDocumentReadsBackAndWritesTheSameBytes(t *testing.T) {
	text := written(t, document(scored(), refused()))
	d, err := ReadDocument(bytes.NewReader(text))
	require.NoError(t, err)
	assert.Equal(t, string(text), string(written(t, d)))
}

func TestReadDocumentSaysWhatIsWrong(t *testing.T) {
	good := string(written(t, document(scored())))
	for name, c := range map[string][2]string{
		"empty":             {"", "not JSON, or not whole"},
		"another format":    {"photo,grade\n", "not JSON, or not whole"},
		"another schema":    {`{"schema": 7, "photos": []}`, "schema is 7"},
		"no photos":         {`{"schema": 1}`, "it has no list of photos"},
		"null photos":       {`{"schema": 1, "photos": null}`, "it has no list of photos"},
		"a list":            {`[1, 2]`, "it has no list of photos"},
		"a comparison":      {`{"schema": 1, "verdict": null}`, "valvegrade compare wrote it"},
		"a trend":           {`{"schema": 1, "growth_per": 10000}`, "valvegrade trend wrote it"},
		"an agreement":      {`{"schema": 1, "photos": 3, "raters": []}`, "valvegrade agree wrote it"},
		"a report":          {`{"schema": 1, "cautions": []}`, "valvegrade report wrote it"},
		"index a word":      {strings.Replace(good, `"index": 34.57`, `"index": "high"`, 1), `"index" does not hold what belongs there`},
		"half a file":       {good[:len(good)/2], "not JSON, or not whole"},
		"unknown status":    {strings.Replace(good, `"scored"`, `"done"`, 1), "done"},
		"index missing":     {strings.Replace(good, `"index": 34.57`, `"x": 1`, 1), "index"},
		"index above 100":   {strings.Replace(good, `"index": 34.57`, `"index": 101`, 1), "outside"},
		"thick beyond all":  {strings.Replace(good, `"thick_share": `, `"thick_share": 1e300, "x": `, 1), "outside 0 to 100"},
		"share of 300 %":    {strings.Replace(good, `"heavy": `, `"heavy": 3, "x": `, 1), "a share is outside 0 to 1"},
		"surer than sure":   {strings.Replace(good, `"region_confidence": 0.93`, `"region_confidence": 1e300`, 1), "outside 0 to 1"},
		"set aside below 0": {strings.Replace(good, `"unreadable": 0.09`, `"unreadable": -5`, 1), "outside 0 to 1"},
		"no height":         {strings.Replace(good, `"height": 48`, `"height": 0`, 1), "size"},
		"width below 0":     {strings.Replace(good, `"width": 64`, `"width": -640`, 1), "size"},
		"refused, but read": {strings.Replace(good, `"status": "scored"`, `"status": "refused"`, 1), "refused with figures"},
		"half an interval":  {strings.Replace(good, `"dark_low": `, `"x": `, 1), "dark deposit without its interval"},
		"turned round":      {strings.Replace(good, `"index_low": `, `"index_low": 90, "x": `, 1), "the ends of an interval are turned round"},
		"above its end":     {strings.Replace(good, `"index_low": `, `"index_low": 34.58, "x": `, 1), "a value lies outside its interval"},
		"crust beyond":      {strings.Replace(good, `"dark_high": `, `"dark_high": 0, "x": `, 1), "the ends of an interval are turned round"},
		"grade 99":          {strings.Replace(good, `"grade": 2`, `"grade": 99`, 1), "grade 99"},
		"four times sure":   {strings.Replace(good, `"probabilities": [`, `"probabilities": [1, 1, 1, 1, 1], "x": [`, 1), "add up to more than 1"},
		"all of everything": {strings.Replace(good, `"film": `, `"film": 1, "x": `, 1), "add up to more than 1"},
		"grade missing":     {strings.Replace(good, `"grade": 2`, `"g": 2`, 1), "grade"},
	} {
		_, err := ReadDocument(strings.NewReader(c[0]))
		require.ErrorIs(t, err, ErrDocument, name)
		assert.ErrorContains(t, err, c[1], name)
		assert.NotContains(t, err.Error(), "json:", name)
	}
}

// An interval that nobody measures is refused wherever it stands.
func TestIntervalsTurnedRoundAreRefused(t *testing.T) {
	low, high := measure.Rounded(90, 0), measure.Rounded(10, 0)
	for name, turn := range map[string]func(r *Record){
		"index":    func(r *Record) { r.IndexLow, r.IndexHigh = low, high },
		"dark":     func(r *Record) { r.DarkLow, r.DarkHigh = low, high },
		"coverage": func(r *Record) { r.CoverageLow, r.CoverageHigh = low, high },
		"head":     func(r *Record) { r.Head.DarkLow, r.Head.DarkHigh = low, high },
		"stem":     func(r *Record) { r.Stem.IndexLow, r.Stem.IndexHigh = low, high },
		"thick":    func(r *Record) { r.Thick, r.ThickLow, r.ThickHigh = measure.Number{}, low, high },
	} {
		d := document(scored())
		d.Photos[0].Stem = new(*d.Photos[0].Head)
		turn(&d.Photos[0])
		_, err := ReadDocument(bytes.NewReader(written(t, d)))
		require.ErrorIs(t, err, ErrDocument, name)
		assert.ErrorContains(t, err, "the ends of an interval are turned round", name)
	}
}

// A key that score writes, too, would tell nothing.
func TestTelltalesAreNoKeysOfADocument(t *testing.T) {
	var keys struct{ Properties map[string]json.RawMessage }
	require.NoError(t, json.Unmarshal(Schema, &keys))
	require.Contains(t, keys.Properties, "photos")
	for _, tale := range telltales {
		assert.NotContains(t, keys.Properties, tale.key)
	}
}

func TestOddsOfEarlierVersionsAreThoseOfTheInterval(t *testing.T) {
	record := only(t, newScorer(t, Options{}).Score(demoPhoto)).Record()
	assert.Equal(t, record.Written.Odds(), record.Odds())
	record.Probabilities = nil
	assert.Equal(t, grade.OfInterval(record.IndexFigure()), record.Odds())
	assert.True(t, record.Odds().Known())
	refused := record.Refuse(reason.With(reason.Failed, "why"))
	assert.False(t, refused.Odds().Known())
}

func TestRefusedRecordHasNoFigures(t *testing.T) {
	r := scored() // measured, then refused for what was found
	r.Status, r.Grade = Refused, nil
	rec := r.Record()
	assert.Nil(t, rec.Grade)
	assert.False(t, rec.Index.Known())
	assert.Nil(t, rec.Shares)
	assert.NotNil(t, rec.Quality, "what the photo is like helps to take a better one")
}

func TestRoundingKeepsTheValueInsideItsInterval(t *testing.T) {
	r := scored()
	r.Deposit.Both.Index.Value, r.Deposit.Both.Index.Low, r.Deposit.Both.Index.High = 12.34501, 12.34501, 12.34501
	rec := r.Record()
	assert.LessOrEqual(t, rec.IndexLow.Value(), rec.Index.Value())
	assert.LessOrEqual(t, rec.Index.Value(), rec.IndexHigh.Value())
}

// Thousands of records are held at a time; the pictures behind them must not be.
func TestRecordKeepsNothingOfTheResultAlive(t *testing.T) {
	gone := make(chan string, 3)
	record := func() Record {
		r := scored()
		runtime.AddCleanup(r, func(string) { gone <- "result" }, "")
		runtime.AddCleanup(r.Region, func(string) { gone <- "region" }, "")
		runtime.AddCleanup(r.Deposit, func(string) { gone <- "deposit" }, "")
		return r.Record()
	}()
	var freed []string
	for len(freed) < 3 {
		runtime.GC()
		select {
		case what := <-gone:
			freed = append(freed, what)
		case <-time.After(5 * time.Second):
			t.Fatalf("only %v could be freed", freed)
		}
	}
	runtime.KeepAlive(record)
}
