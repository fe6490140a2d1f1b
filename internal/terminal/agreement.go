package terminal

import (
	"fmt"
	"io"
	"strings"

	"valvegrade/internal/number"
	"valvegrade/pkg/agree"
	"valvegrade/pkg/grade"
	"valvegrade/pkg/measure"
)

// Agreement prints what each pair of raters shares, then all raters together, and how well each repeats.
func Agreement(w io.Writer, a *agree.Agreement) error {
	names := make([]string, len(a.Raters))
	for i, name := range a.Raters {
		names[i] = Printable(name)
	}
	if _, err := fmt.Fprintf(w, "photos: %d, raters: %s\n", a.Photos, strings.Join(names, ", ")); err != nil {
		return err
	}
	for _, p := range a.Pairs {
		if err := pair(w, p); err != nil {
			return err
		}
	}
	if rows := jointRows(a); len(rows) > 0 {
		fmt.Fprintln(w, "\nall raters together")
		if err := Columns(w, rows); err != nil {
			return err
		}
	}
	return lines(w, a.Notes)
}

// pair prints the figures of two raters and the table of their grades.
func pair(w io.Writer, p agree.Pair) error {
	fmt.Fprintf(w, "\n%s against %s, photos: %d\n", Printable(p.First), Printable(p.Second), p.Photos)
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
	return Columns(w, gradeRows(p))
}

// gradeRows is the confusion table: rows are the first rater's grades, columns the second's; an empty place is a dot.
func gradeRows(p agree.Pair) [][]string {
	names := grade.Names()
	header := []string{fmt.Sprintf("  %s \\ %s", Printable(p.First), Printable(p.Second))}
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
	return rows
}

func jointRows(a *agree.Agreement) [][]string {
	var rows [][]string
	if a.Fleiss != nil {
		rows = append(
			rows,
			[]string{"  beyond chance", known(fmt.Sprintf("%.2f", a.Fleiss.Value)), "kappa of all raters, unweighted"},
		)
	}
	if a.ICC != nil {
		rows = append(
			rows,
			[]string{"  intraclass correlation", decimals(a.ICC.RandomSingle), "of the index, one rater of any"},
		)
	}
	for _, r := range a.Repeats {
		unit := "points"
		if r.Of == "grade" {
			unit = "grades"
		}
		rows = append(rows, []string{
			"  repeatability of " + Printable(r.Rater),
			known(fmt.Sprintf("SD %.1f (%.1f to %.1f) %s", r.SD.Value, r.SD.Low, r.SD.High, unit)),
			fmt.Sprintf("smallest detectable change %.1f, valves seen again: %d", r.SmallestDetectable, r.Items),
		})
	}
	if p := a.Precision; p != nil {
		rows = append(rows, []string{
			"  between raters", known(fmt.Sprintf("SD %.1f points", p.BetweenSD)),
			fmt.Sprintf("any two raters: SD %.1f", p.ReproducibilitySD),
		})
	}
	return rows
}

// shareCell is "12 of 16, 75 % (51 to 90)".
func shareCell(p agree.Proportion) string {
	return fmt.Sprintf("%d of %d, %.0f %% (%.0f to %.0f)", p.Count, p.Of, 100*p.Value, 100*p.Low, 100*p.High)
}

// decimals is a coefficient with its interval.
func decimals(f measure.Figure) string {
	return known(fmt.Sprintf("%s (%s to %s)", number.Text(f.Value, 2), number.Text(f.Low, 2), number.Text(f.High, 2)))
}

// known leaves out an interval that was not determined, and replaces a figure that was not by a dash.
func known(cell string) string {
	return strings.ReplaceAll(strings.ReplaceAll(cell, " (NaN to NaN)", ""), "NaN", unknown)
}
