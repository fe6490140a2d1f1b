package export_test

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/parquet-go/parquet-go"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"valvegrade/pkg/archive"
	"valvegrade/pkg/archive/export"
)

var rows = []archive.Row{
	{
		Inspection: 1,
		Vehicle:    2,
		Family:     "two litre",
		Day:        new("2025-01-02"),
		Year:       2025,
		Stage:      "before",
		Cylinder:   1,
		Valve:      2,
		Status:     "scored",
		Grade:      new(3),
		Index:      new(55.5),
		Version:    "1",
	},
	{
		Inspection: 2,
		Vehicle:    3,
		Family:     "=1+1",
		Year:       2024,
		Stage:      "routine",
		Status:     "refused",
		Method:     "a \"b\", c\nd",
		Technician: "\u00a0=2+2",
	},
}

func written(t *testing.T, format string) *bytes.Buffer {
	return writtenAs(t, format, export.Options{})
}

func writtenAs(t *testing.T, format string, o export.Options) *bytes.Buffer {
	var out bytes.Buffer
	w, err := export.New(format, &out, o)
	require.NoError(t, err)
	for _, r := range rows {
		require.NoError(t, w.Row(r))
	}
	require.NoError(t, w.Close())
	return &out
}

func TestCSVHasACellForEachColumn(t *testing.T) {
	cells, err := csv.NewReader(written(t, "csv")).ReadAll()
	require.NoError(t, err)
	require.Len(t, cells, 3)
	assert.Equal(t, export.Columns(), cells[0])
	by := map[string]string{}
	for n, name := range cells[0] {
		by[name] = cells[2][n]
	}
	assert.Equal(t, "'=1+1", by["engine_family"], "no formula")
	assert.Equal(t, "'\u00a0=2+2", by["technician"], "nor one behind a blank")
	assert.Equal(t, rows[1].Method, by["method"])
	assert.Empty(t, by["index"], "not measured is not 0")
}

// Where decimals have a comma a spreadsheet parts columns at semicolons, and knows UTF-8 by its mark.
func TestCSVForSpreadsheetsWithDecimalCommas(t *testing.T) {
	text, marked := strings.CutPrefix(writtenAs(t, "csv", export.Options{Semicolons: true}).String(), "\ufeff")
	assert.True(t, marked)
	reader := csv.NewReader(strings.NewReader(text))
	reader.Comma = ';'
	cells, err := reader.ReadAll()
	require.NoError(t, err)
	assert.Equal(t, export.Columns(), cells[0])
	at := slices.Index(cells[0], "index")
	require.NotNil(t, rows[0].Index)
	assert.Equal(t, strings.Replace(fmt.Sprint(*rows[0].Index), ".", ",", 1), cells[1][at])
}

func TestJSONLinesReadBack(t *testing.T) {
	lines := strings.Split(strings.TrimSpace(written(t, "jsonl").String()), "\n")
	require.Len(t, lines, 2)
	for n, line := range lines {
		var back archive.Row
		require.NoError(t, json.Unmarshal([]byte(line), &back))
		assert.Equal(t, rows[n], back)
	}
}

func TestParquetReadsBack(t *testing.T) {
	file := written(t, "parquet").Bytes()
	back, err := parquet.Read[archive.Row](bytes.NewReader(file), int64(len(file)))
	require.NoError(t, err)
	assert.Equal(t, rows, back)
	opened, err := parquet.OpenFile(bytes.NewReader(file), int64(len(file)))
	require.NoError(t, err)
	var names []string
	for _, field := range opened.Schema().Fields() {
		names = append(names, field.Name())
	}
	assert.Equal(t, export.Columns(), names, "the same columns as in the other formats")
}

func TestUnknownFormat(t *testing.T) {
	_, err := export.New("xlsx", &bytes.Buffer{}, export.Options{})
	require.Error(t, err)
}
