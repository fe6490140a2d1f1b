package report

import (
	"encoding/csv"
	"encoding/json"
	"io"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"valvegrade/internal/schema"
	"valvegrade/pkg/compare"
	"valvegrade/pkg/engine"
	"valvegrade/pkg/inspection"
	"valvegrade/pkg/reason"
	"valvegrade/pkg/region"
	"valvegrade/pkg/score"
)

func TestGoldenText(t *testing.T) {
	golden(t, "one.txt", build(t, inputOf(t, "before")).WriteText)
	in := inputOf(t, "before", "after")
	in.Locale, in.Unit = "en-GB", inspection.Kilometres
	golden(t, "both.txt", build(t, in).WriteText)
	golden(t, "readings.txt", build(t, readings(t)).WriteText)
}

func TestGoldenCSV(t *testing.T) {
	golden(t, "one.csv", build(t, inputOf(t, "before")).WriteCSV)
	golden(t, "both.csv", build(t, inputOf(t, "before", "after")).WriteCSV)
	golden(t, "readings.csv", build(t, readings(t)).WriteCSV)
}

// Spreadsheets expect semicolons where decimals have a comma, and texts as they are.
func TestCSVIsPartedAsTheLocaleOrTheSeparatorSays(t *testing.T) {
	for _, c := range []struct {
		locale    string
		separator Separator
		comma     rune
		dark      string
	}{
		{"en-US", "", ',', "12.5"}, {"de-DE", "", ';', "12,5"}, {"fr-FR", "", ';', "12,5"}, {"de-CH", "", ',', "12.5"},
		{"de-DE", Comma, ',', "12.5"}, {"en-US", Semicolon, ';', "12,5"},
	} {
		in := inputOf(t, "before", "after")
		in.Locale, in.Separator = c.locale, c.separator
		m := build(t, in)
		m.Vehicle, m.Cylinders[0].Valves[0].States[0].Dark.Value = "van 4.5", 12.5
		text, marked := strings.CutPrefix(written(t, m.WriteCSV), "\ufeff")
		assert.Equal(t, c.comma == ';', marked, "%+v", c)
		reader := csv.NewReader(strings.NewReader(text))
		reader.Comma = c.comma
		cells, err := reader.ReadAll()
		require.NoError(t, err, "%+v", c)
		require.Len(t, cells[1], len(Columns()), "%+v", c)
		of := func(name string) string { return cells[1][slices.Index(cells[0], name)] }
		assert.Equal(t, c.dark, of("dark"), "%+v", c)
		assert.Equal(t, "van 4.5", of("vehicle"))
	}
}

func TestGoldenJSON(t *testing.T) {
	golden(t, "one.report.json", build(t, inputOf(t, "before")).WriteJSON)
	both := build(t, inputOf(t, "before", "after"))
	golden(t, "both.report.json", func(w io.Writer) error {
		var d map[string]any
		require.NoError(t, json.Unmarshal([]byte(written(t, both.WriteJSON)), &d))
		delete(d, "inspections") // as scoring and compare write them
		delete(d, "comparison")
		encoder := json.NewEncoder(w)
		encoder.SetIndent("", "  ")
		return encoder.Encode(d)
	})
}

func TestJSONKeepsItsSchemas(t *testing.T) {
	for _, names := range [][]string{{"before"}, {"before", "after"}} {
		text := written(t, build(t, inputOf(t, names...)).WriteJSON)
		assert.NoError(t, schema.CheckToday(Schema, []byte(text)))
		var parts struct {
			Inspections []map[string]json.RawMessage `json:"inspections"`
			Comparison  json.RawMessage              `json:"comparison"`
		}
		require.NoError(t, json.Unmarshal([]byte(text), &parts))
		for _, i := range parts.Inspections {
			assert.NoError(t, schema.CheckToday(engine.Schema, i["inspection"]))
		}
		if len(names) == 2 {
			assert.NoError(t, schema.CheckToday(compare.Schema, parts.Comparison))
		}
	}
}

// The schema must be able to fail.
func TestSchemaRefusesBrokenReports(t *testing.T) {
	text := written(t, build(t, inputOf(t, "before")).WriteJSON)
	for _, change := range [][2]string{
		{`"schema": 1,`, `"schema": 2,`}, {`"odometer_unit": "mi",`, `"odometer_unit": "m",`}, {`"date": "2026-03-16"`, `"date": "16 March"`},
		{`"vehicle": "fleet-17",`, `"vehicle": "",`}, {`"grade": 3,`, `"grade": 5,`}, {`"summary"`, `"sum"`},
	} {
		require.Contains(t, text, change[0])
		assert.Error(t, schema.CheckToday(Schema, []byte(strings.Replace(text, change[0], change[1], 1))), change[1])
	}
}

func TestCSVHasOneLinePerValveAndNoFormulas(t *testing.T) {
	in := inputOf(t, "before", "after")
	in.Job.Number = "=1+1"
	in.Visits[0].Photos[0].Reasons = []reason.Reason{{Code: " =2+2"}}
	in.Visits[0].Engine.Inspection.Odometer.Value = 1234567
	for _, v := range in.Visits {
		v.Engine.Inspection.Vehicle = `@"quoted", and a comma`
		for _, c := range v.Engine.Cylinders {
			c.Method = "-dash"
		}
	}
	lines, err := csv.NewReader(strings.NewReader(written(t, build(t, in).WriteCSV))).ReadAll()
	require.NoError(t, err)
	require.Len(t, lines, 1+4)
	require.Len(t, lines[0], len(Columns()))
	assert.Equal(t, "'=1+1", lines[1][0])
	cell := func(column string) string { return lines[1][slices.Index(lines[0], column)] }
	assert.Equal(t, "' =2+2", cell("reasons"))
	assert.Equal(t, "1234567", cell("odometer"))
	assert.Equal(t, `'@"quoted", and a comma`, lines[1][1])
	for n, column := range Columns() {
		assert.Equal(t, column.Name, lines[0][n])
		assert.NotEmpty(t, column.Meaning)
	}
}

func TestOutlinesByHandAreCalledSo(t *testing.T) {
	in := inputOf(t, "before")
	byHand := region.ByHand
	in.Visits[0].Photos[0].RegionSource = &byHand
	m := build(t, in)
	hand, found := m.PhotoFigures(in.Visits[0].Photos[0]), m.PhotoFigures(in.Visits[0].Photos[1])
	assert.Contains(t, hand, "outline set by hand")
	assert.NotContains(t, hand, "confidence")
	assert.Contains(t, found, "outline confidence")
	assert.Contains(t, written(t, m.WriteHTML), hand)
	in.Visits[0].Photos[0].OutlinedBy = "Ann"
	m = build(t, in)
	hand = m.PhotoFigures(in.Visits[0].Photos[0])
	assert.Contains(t, hand, "outline set by hand, by Ann")
	assert.Contains(t, written(t, m.WriteHTML), hand)
	rows, err := csv.NewReader(strings.NewReader(written(t, m.WriteCSV))).ReadAll()
	require.NoError(t, err)
	column := slices.Index(rows[0], "outlines_by_hand")
	require.Positive(t, column)
	assert.Equal(t, "1", rows[1][column])
	assert.Equal(t, "0", rows[2][column])
}

func TestColumnNamesAreUnique(t *testing.T) {
	seen := map[string]bool{}
	for _, c := range Columns() {
		assert.False(t, seen[c.Name], c.Name)
		seen[c.Name] = true
	}
}

// hostile are texts that someone may put into a name; benign is what must still be readable of each.
var hostile = []struct{ text, benign string }{
	{`<script>alert(1)</script>`, "alert(1)"},
	{`"><img src=x onerror=alert(1)>`, "onerror"},
	{"سيارة 17", "سيارة 17"},
	{"\u202eelttil", "elttil"},
	{"two\r\nlines\tand\x00more\x1b[31m", "lines"},
	{"javascript:alert(1)", "javascript:alert(1)"},
	{strings.Repeat("W", 5000), "WWWW"},
}

func TestHostileNamesAreHarmlessInEveryFormat(t *testing.T) {
	plainLines := strings.Count(written(t, build(t, inputOf(t, "before")).WriteText), "\n")
	for _, h := range hostile {
		in := inputOf(t, "before")
		in.Shop.Name, in.Job.Customer, in.Job.Number = h.text, h.text, h.text
		i := in.Visits[0].Engine.Inspection
		i.Vehicle = h.text
		i.Photos[0].File = h.text
		m := build(t, in)

		page := written(t, m.WriteHTML)
		assert.NotContains(t, page, "<script>alert")
		assert.NotContains(t, page, "<img src=x")
		assert.Contains(t, page, strings.NewReplacer("<", "&lt;", ">", "&gt;", `"`, "&#34;").Replace(h.benign))

		text := written(t, m.WriteText)
		assert.Equal(t, plainLines, strings.Count(text, "\n"), "a name must not break the line: %q", text)
		assert.NotContains(t, text, "\u202e")
		assert.NotContains(t, text, "\x1b")
		assert.Contains(t, text, h.benign)

		assert.NoError(t, schema.CheckToday(Schema, []byte(written(t, m.WriteJSON))))
		_, err := csv.NewReader(strings.NewReader(written(t, m.WriteCSV))).ReadAll()
		assert.NoError(t, err)
	}
}

func TestRightToLeftTextIsIsolatedInLines(t *testing.T) {
	assert.Equal(t, "\u2068سيارة 17\u2069", oneLine("سيارة 17"))
	assert.Equal(t, "fleet-17", oneLine("fleet-17"))
	assert.Equal(t, "a b", oneLine(" a\r\n\tb "))
}

func TestRefusedPhotoIsNeverGraded(t *testing.T) {
	in := inputOf(t, "before")
	for n := range in.Visits[0].Photos {
		if in.Visits[0].Photos[n].Status == score.Refused {
			in.Visits[0].Pictures[n].Absent = "cannot be shown"
		}
	}
	page := written(t, build(t, in).WriteHTML)
	assert.Contains(t, page, "not graded")
	assert.Contains(t, page, "out of focus")
	assert.Contains(t, page, "cannot be shown")
}

// Where a photo lay on the shop's computer is nobody's business.
func TestFoldersAreNotTold(t *testing.T) {
	in := inputOf(t, "before", "after")
	for _, source := range in.Visits {
		for n := range source.Photos {
			source.Photos[n].Photo = "/home/somebody/" + source.Photos[n].Photo
		}
	}
	for name, write := range formats(build(t, in)) {
		assert.NotContains(t, written(t, write), "somebody", name)
	}
}
