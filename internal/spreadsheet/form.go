package spreadsheet

import (
	"encoding/csv"
	"io"
	"strings"
)

// Form is how columns are parted, and how decimals are written.
type Form struct {
	separator rune
	decimal   string
	// mark is written first: some spreadsheets take a file without it for one of their region's old letters.
	mark string
}

// Standard is that of RFC 4180: commas, decimals with a point. Semicolons is what spreadsheets expect where decimals have a
// comma.
var (
	Standard   = Form{',', ".", ""}
	Semicolons = Form{';', ",", "\ufeff"}
)

// Writer writes lines of cells in this form, in UTF-8.
func (f Form) Writer(w io.Writer) (*csv.Writer, error) {
	if _, err := io.WriteString(w, f.mark); err != nil {
		return nil, err
	}
	out := csv.NewWriter(w)
	out.Comma = f.separator
	return out, nil
}

// Number is a number, written with a point, as the cell of a file.
func (f Form) Number(text string) string { return strings.Replace(text, ".", f.decimal, 1) }
