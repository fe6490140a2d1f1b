// Package spreadsheet keeps a spreadsheet from running what stands in a CSV file.
package spreadsheet

import "regexp"

// Text is a text from outside as the cell of a CSV file: one that a spreadsheet would run as a formula, which it may also
// see behind blanks, in letters of full width, or behind what separates columns for it, is marked. A text that begins
// like a formula is marked as text; inside one, a blank and an apostrophe stand between separator and formula.
func Text(text string) string {
	text = hiddenFormula.ReplaceAllString(text, "$1 '$2")
	if formula.MatchString(text) {
		return "'" + text
	}
	return text
}

var (
	formula       = regexp.MustCompile(`^[\s\p{Z}\p{Cf}]*[=+\-@＝＋－＠]`)
	hiddenFormula = regexp.MustCompile(`([;\t\n\r][\s\p{Z}\p{Cf}"']*)([=+\-@＝＋－＠])`)
)
