package terminal

import (
	"fmt"
	"io"
	"math"
	"regexp"
	"strings"

	"github.com/rivo/uniseg"

	"valvegrade/internal/number"
	"valvegrade/pkg/grade"
	"valvegrade/pkg/measure"
)

// unknown stands where nothing was measured.
const unknown = "-"

// Columns writes rows of cells in columns as wide as their widest cell, two blanks apart. A row may end early.
func Columns(w io.Writer, rows [][]string) error {
	wide := widths(rows)
	var text strings.Builder
	for _, row := range rows {
		line := ""
		for i, cell := range row {
			line += cell + strings.Repeat(" ", wide[i]+2-uniseg.StringWidth(cell))
		}
		text.WriteString(strings.TrimRight(line, " ") + "\n")
	}
	_, err := io.WriteString(w, text.String())
	return err
}

// FittingColumns writes rows under a header as Columns does, in lines of at most so many columns: the cells below the
// header long are shortened, and columns left out in the order in which spare names their headers.
func FittingColumns(w io.Writer, rows [][]string, width int, long string, spare ...string) error {
	return Columns(w, fit(rows, width, long, spare...))
}

// rangeCell is a figure with its interval, "52.1 (47.8 to 56.3)".
func rangeCell(f measure.Figure) string {
	return ranged(f, 1)
}

// ranged writes a figure with its interval, all to the same number of decimals.
func ranged(f measure.Figure, decimals int) string {
	return fmt.Sprintf("%s (%s to %s)",
		number.Text(f.Value, decimals), number.Text(f.Low, decimals), number.Text(f.High, decimals))
}

// indexCell is an index, so that it keeps its grade.
func indexCell(v float64) string {
	if math.IsNaN(v) {
		return unknown
	}
	return grade.IndexText(v)
}

// indexRangeCell is an index with its interval, "14.6 (10 to 18)"; without one where there is none.
func indexRangeCell(f measure.Figure) string {
	if math.IsNaN(f.Low) {
		return indexCell(f.Value)
	}
	return fmt.Sprintf("%s (%s to %s)", indexCell(f.Value), number.Text(f.Low, 0), number.Text(f.High, 0))
}

// wholeCell is a figure without decimals.
func wholeCell(v float64) string {
	if math.IsNaN(v) {
		return unknown
	}
	return number.Text(v, 0)
}

// wholeRangeCell is a figure with its interval, without decimals, "52 (48 to 56)"; without one where there is none.
func wholeRangeCell(f measure.Figure) string {
	if math.IsNaN(f.Low) {
		return wholeCell(f.Value)
	}
	return ranged(f, 0)
}

// fromTo is what was read first and last, "62 → 6", which nobody takes for the ends of an interval.
func fromTo(first, last string) string { return first + " → " + last }

// darkCell is a dark deposit with its interval, "62 % (57 to 66)".
func darkCell(f measure.Figure) string {
	if !f.Known() {
		return unknown
	}
	return fmt.Sprintf("%s %% (%s to %s)", number.Text(f.Value, 0), number.Text(f.Low, 0), number.Text(f.High, 0))
}

// indexCells are the grade, how likely each grade is, and the figure of an index.
func indexCells(index measure.Figure, p grade.Probabilities) (graded, steps, figure string) {
	g := grade.Of(index, p)
	if g == nil {
		return "not graded", "", unknown
	}
	return GradeCell(g), likely(g.Probabilities), indexRangeCell(index)
}

// GradeCell is a grade in a table: "3 crusted", or "3, perhaps 4" where another is likelier.
func GradeCell(g *grade.Grade) string {
	if run, another := g.Perhaps(); another {
		return fmt.Sprintf("%d, perhaps %s", g.Value, run)
	}
	return fmt.Sprintf("%d %s", g.Value, g.Name)
}

// likely draws the probabilities of the grades 0 to 4 as five steps, "▁▁▂█▂".
func likely(p grade.Probabilities) string {
	const steps = "▁▂▃▄▅▆▇█"
	var drawn strings.Builder
	for _, share := range p {
		if p.Known() {
			drawn.WriteRune([]rune(steps)[min(7, int(8*share))])
		}
	}
	return drawn.String()
}

// Sentence prints a line, broken between words at so many columns.
func Sentence(w io.Writer, line string, width int) error {
	_, err := fmt.Fprintln(w, wrapped(line, width))
	return err
}

// paragraph prints lines below an empty one, broken between words at so many columns; nothing when there are none.
func paragraph(w io.Writer, lines []string, width int) error {
	if len(lines) == 0 {
		return nil
	}
	var text strings.Builder
	for _, line := range lines {
		text.WriteString("\n" + wrapped(line, width))
	}
	_, err := fmt.Fprintln(w, text.String())
	return err
}

// hanging stands before all lines of a sentence but its first.
const hanging = "    "

// goesOn is what belongs to a number before it: its other digits, its unit.
var goesOn = regexp.MustCompile(`^(\d{3}\b|%|mi\b|km\b)`)

// wordsOf are the words of a sentence, a number with its unit one of them.
func wordsOf(sentence string) []string {
	var words []string
	for _, word := range strings.Fields(sentence) {
		last := len(words) - 1
		if last >= 0 && goesOn.MatchString(word) && strings.ContainsAny(words[last][len(words[last])-1:], "0123456789") {
			words[last] += " " + word
			continue
		}
		words = append(words, word)
	}
	return words
}

// wrapped breaks a sentence between words; a word that is wider than a line stands alone.
func wrapped(sentence string, width int) string {
	var text strings.Builder
	column := 0
	for n, word := range wordsOf(sentence) {
		wide := uniseg.StringWidth(word)
		switch {
		case n == 0:
		case column+1+wide > width:
			text.WriteString("\n" + hanging)
			column = len(hanging)
		default:
			text.WriteString(" ")
			column++
		}
		text.WriteString(word)
		column += wide
	}
	return text.String()
}
