package export_test

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
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
	var out bytes.Buffer
	w, err := export.New(format, &out)
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
	_, err := export.New("xlsx", &bytes.Buffer{})
	require.Error(t, err)
}
