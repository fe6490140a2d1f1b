// Package export writes the results of an archive for spreadsheets and programs of statistics: CSV, JSON lines,
// Parquet.
package export

import (
	"bufio"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"io"
	"reflect"
	"strconv"
	"strings"

	"github.com/parquet-go/parquet-go"

	"valvegrade/internal/spreadsheet"
	"valvegrade/pkg/archive"
)

// Writer takes rows one after the other. Close writes what is still held back; it does not close what lies below.
type Writer interface {
	Row(r archive.Row) error
	Close() error
}

// Formats are the names that New knows; they are extensions of files, too.
func Formats() []string { return []string{"csv", "jsonl", "parquet"} }

// Options steer New. The zero value is right for programs.
type Options struct {
	// Semicolons parts the columns of CSV by semicolons, with decimals in commas: for spreadsheets where people write
	// numbers so.
	Semicolons bool
}

// New returns a writer of a format. What was not measured is an empty cell, null, or a Parquet null.
func New(format string, w io.Writer, o Options) (Writer, error) {
	switch format {
	case "csv":
		form := spreadsheet.Standard
		if o.Semicolons {
			form = spreadsheet.Semicolons
		}
		lines, err := form.Writer(w)
		if err != nil {
			return nil, err
		}
		return &csvWriter{lines, form}, lines.Write(Columns())
	case "jsonl":
		buffer := bufio.NewWriter(w)
		encoder := json.NewEncoder(buffer)
		encoder.SetEscapeHTML(false)
		return &lineWriter{buffer, encoder}, nil
	case "parquet":
		return &parquetWriter{parquet.NewGenericWriter[archive.Row](w, parquet.Compression(&parquet.Zstd))}, nil
	}
	return nil, fmt.Errorf("no export is written as %q: %s", format, strings.Join(Formats(), ", "))
}

// Columns are the names of the columns, the same in every format.
func Columns() []string {
	row := reflect.TypeFor[archive.Row]()
	names := make([]string, row.NumField())
	for n := range names {
		names[n], _, _ = strings.Cut(row.Field(n).Tag.Get("json"), ",")
	}
	return names
}

type csvWriter struct {
	*csv.Writer
	form spreadsheet.Form
}

func (w *csvWriter) Row(r archive.Row) error {
	row := reflect.ValueOf(r)
	cells := make([]string, row.NumField())
	for n := range cells {
		cells[n] = w.cell(row.Field(n))
	}
	return w.Write(cells)
}

// cell writes a value.
func (w *csvWriter) cell(v reflect.Value) string {
	if v.Kind() == reflect.Pointer {
		if v.IsNil() {
			return ""
		}
		v = v.Elem()
	}
	switch v.Kind() {
	case reflect.Float64:
		return w.form.Number(strconv.FormatFloat(v.Float(), 'g', -1, 64))
	case reflect.String:
		return spreadsheet.Text(v.String())
	}
	return fmt.Sprint(v.Interface())
}

func (w *csvWriter) Close() error {
	w.Flush()
	return w.Error()
}

type lineWriter struct {
	buffer  *bufio.Writer
	encoder *json.Encoder
}

func (w *lineWriter) Row(r archive.Row) error { return w.encoder.Encode(r) }
func (w *lineWriter) Close() error            { return w.buffer.Flush() }

type parquetWriter struct {
	*parquet.GenericWriter[archive.Row]
}

func (w *parquetWriter) Row(r archive.Row) error {
	_, err := w.Write([]archive.Row{r})
	return err
}
