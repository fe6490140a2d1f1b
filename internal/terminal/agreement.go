package terminal

import (
	"fmt"
	"io"
	"strings"

	"github.com/rivo/uniseg"

	"valvegrade/internal/number"
	"valvegrade/pkg/agree"
	"valvegrade/pkg/grade"
	"valvegrade/pkg/measure"
)

// Agreement prints what each pair of raters shares, then all raters together, and how well each repeats, in lines of at
// most so many columns: long names are shortened in the tables.
func Agreement(w io.Writer, a *agree.Agreement, width int) error {
	names := make([]string, len(a.Raters))
	for i, name := range a.Raters {
		names[i] = Printable(name)
	}
	about := fmt.Sprintf("photos: %d, raters: %s", a.Photos, strings.Join(names, ", "))
	if _, err := fmt.Fprintln(w, wrapped(about, width)); err != nil {
		return err
	}
	for _, p := range a.Pairs {
		if err := pair(w, p, width); err != nil {
			return err
		}
	}
	if rows := jointRows(a); len(rows) > 0 {
		fmt.Fprintln(w, "\nall raters together")
		if err := Columns(w, rows); err != nil {
			return err
		}
	}
	if len(a.Repeats) > 0 {
		fmt.Fprintln(w)
		if err := Columns(w, narrowed(repeatRows(a), repeating, leastName, width)); err != nil {
			return err
		}
	}
	var notes []string
	for _, note := range a.Notes {
		notes = append(notes, Printable(note))
	}
	return paragraph(w, notes, width)
}

// pair prints the figures of two raters and the table of their grades.
func pair(w io.Writer, p agree.Pair, width int) error {
	about := fmt.Sprintf("%s against %s, photos: %d", Printable(p.First), Printable(p.Second), p.Photos)
	fmt.Fprintf(w, "\n%s\n", wrapped(about, width))
	rows := [][]string{
		{"  same grade", shareCell(p.Same)},
		{"  within one grade", shareCell(p.WithinOne)},
		{"  beyond chance", decimals(p.Quadratic.Figure) + " of 1 (kappa, quadratic weights)"},
	}
	if p.Index != nil {
		l, c := p.Index.Limits, p.Index.Concordance
		rows = append(
			rows,
			[]string{"  bias of the index", known(rangeCell(l.Bias)) + " points"},
			[]string{
				"  limits of agreement",
				known(number.Text(l.Lower.Value, 1)+" to "+number.Text(l.Upper.Value, 1)) + " points",
			},
			[]string{"  concordance", decimals(c.Figure)},
		)
	}
	if err := Columns(w, rows); err != nil {
		return err
	}
	fmt.Fprintln(w)
	return Columns(w, gradeRows(p, width))
}

// gradeRows is the confusion table: rows are the first rater's grades, columns the second's; an empty place is a dot.
func gradeRows(p agree.Pair, width int) [][]string {
	names := grade.Names()
	header := []string{""}
	for value, name := range names {
		header = append(header, fmt.Sprintf("%d %s", value, name))
	}
	rows := [][]string{header}
	for value, counts := range p.Table {
		row := []string{fmt.Sprintf("  %d %s", value, names[value])}
		for _, n := range counts {
			cell := "."
			if n > 0 {
				cell = fmt.Sprint(n)
			}
			row = append(row, cell)
		}
		rows = append(rows, row)
	}
	free, _ := room(rows, 0, width)
	first, second := sharing(Printable(p.First), Printable(p.Second), max(2*leastName, free)-len("   \\ "))
	header[0] = fmt.Sprintf("  %s \\ %s", first, second)
	return rows
}

// sharing shortens two names until both together are at most so many columns wide; a short one leaves its room to the
// other.
func sharing(first, second string, width int) (string, string) {
	first = shortened(first, max(width/2, width-uniseg.StringWidth(second)))
	return first, shortened(second, width-uniseg.StringWidth(first))
}

func jointRows(a *agree.Agreement) [][]string {
	var rows [][]string
	if a.Fleiss != nil {
		rows = append(
			rows,
			[]string{"  beyond chance", known(fmt.Sprintf("%.2f", a.Fleiss.Value)) + " of 1 (kappa, unweighted)"},
		)
	}
	if a.ICC != nil {
		rows = append(
			rows,
			[]string{"  intraclass correlation", decimals(a.ICC.RandomSingle) + " of the index, one rater of any"},
		)
	}
	if p := a.Precision; p != nil {
		rows = append(rows, []string{
			"  any two raters", fmt.Sprintf("SD %.1f points, from %s", p.ReproducibilitySD, counted(p.Items)),
		})
		if p.Repeated > 0 {
			rows = append(rows, []string{
				"  between raters", fmt.Sprintf("SD %.1f points (%s rated again)", p.BetweenSD, counted(p.Repeated)),
			})
		}
	}
	return rows
}

func counted(valves int) string {
	if valves == 1 {
		return "1 valve"
	}
	return fmt.Sprintf("%d valves", valves)
}

// repeating heads the names of those who rated a valve again.
const repeating = "RATED AGAIN BY"

// repeatRows tell how far a rater's own ratings of one valve lie apart; SURE ABOVE is the smallest change between two.
func repeatRows(a *agree.Agreement) [][]string {
	rows := [][]string{{repeating, "SD (95 %)", "SURE ABOVE", "VALVES"}}
	for _, r := range a.Repeats {
		unit := "points"
		if r.Of == "grade" {
			unit = "grades"
		}
		rows = append(rows, []string{
			Printable(r.Rater), known(rangeCell(r.SD) + " " + unit),
			known(number.Text(r.SmallestDetectable, 1)), fmt.Sprint(r.Items),
		})
	}
	return rows
}

// shareCell is "12 of 16, 75 % (51 to 90)".
func shareCell(p agree.Proportion) string {
	return fmt.Sprintf("%d of %d, %s", p.Count, p.Of, darkCell(p.Figure.Scaled(100)))
}

// decimals is a coefficient with its interval.
func decimals(f measure.Figure) string {
	return known(fmt.Sprintf("%s (%s to %s)", number.Text(f.Value, 2), number.Text(f.Low, 2), number.Text(f.High, 2)))
}

// known leaves out an interval that was not determined, and replaces a figure that was not by a dash.
func known(cell string) string {
	return strings.ReplaceAll(strings.ReplaceAll(cell, " (NaN to NaN)", ""), "NaN", unknown)
}
