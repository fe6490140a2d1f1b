package report

import (
	"io"

	"valvegrade/internal/spreadsheet"
	"valvegrade/pkg/measure"
)

// Column is a column of the CSV form, with what it holds and in which unit. A cell is empty when there is nothing to
// say.
type Column struct{ Name, Meaning string }

// Columns returns the columns in order. The names are stable: new ones are added at the end.
func Columns() []Column {
	columns := make([]Column, 0, len(valveColumns))
	for _, c := range valveColumns {
		columns = append(columns, c.Column)
	}
	return columns
}

// Separator parts the columns of the CSV form.
type Separator string

// The separators. With Comma decimals have a point, as RFC 4180 and most programs have it; with Semicolon a comma, as
// spreadsheets expect it where people write numbers so, and the file begins with the mark of UTF-8.
const (
	Comma     Separator = "comma"
	Semicolon Separator = "semicolon"
)

// form is that of the separator, of none by the locale.
func (m *Model) form() spreadsheet.Form {
	if m.Separator == Semicolon || m.Separator == "" && m.Locale.decimalComma() {
		return spreadsheet.Semicolons
	}
	return spreadsheet.Standard
}

// WriteCSV writes one line per valve under a header, in UTF-8, parted as the Separator says. A text that a spreadsheet would
// take for a formula gets an apostrophe in front.
func (m *Model) WriteCSV(w io.Writer) error {
	form := m.form()
	out, err := form.Writer(w)
	if err != nil {
		return err
	}
	header := make([]string, len(valveColumns))
	for i, c := range valveColumns {
		header[i] = c.Name
	}
	if err := out.Write(header); err != nil {
		return err
	}
	for _, c := range m.Cylinders {
		for _, v := range c.Valves {
			line := make([]string, len(valveColumns))
			for i, column := range valveColumns {
				line[i] = column.cell(row{m, c, v, form})
			}
			if err := out.Write(line); err != nil {
				return err
			}
		}
	}
	out.Flush()
	return out.Error()
}

// row is one valve with what it belongs to.
type row struct {
	*Model
	cylinder Cylinder
	valve    Valve
	form     spreadsheet.Form
}

// decimal writes a figure to hundredths, "" when it was not measured.
func (r row) decimal(v float64) string {
	return r.form.Number(measure.Rounded(v, measure.PointDecimals).String())
}
