package terminal

import (
	"fmt"
	"io"
	"math"
	"slices"

	"valvegrade/internal/number"
	"valvegrade/pkg/trend"
)

// Trend prints one row for each line of the engine and its cylinders, and of each valve when valves is true; below it
// why there is no estimate, and what was converted, combined, assumed or left out.
func Trend(w io.Writer, t *trend.Trend, valves bool) error {
	if _, err := fmt.Fprintf(w, "%s\n\n", Printable(t.Vehicle)); err != nil {
		return err
	}
	rows := [][]string{{
		"", "READINGS", "ODOMETER, " + string(t.Unit), "INDEX",
		fmt.Sprintf("GROWTH PER %s %s (95 %%)", thousands(trend.Per), t.Unit), "VERDICT", "GRADE 3 AT (ESTIMATE)",
	}}
	var missing footnotes
	for _, s := range t.Series {
		if s.Kind == trend.OfValve && !valves {
			continue
		}
		rows = append(rows, seriesRows(s, &missing)...)
	}
	if err := Columns(w, rows); err != nil {
		return err
	}
	return lines(w, append(missing.lines(), t.Notes...))
}

// footnotes are sentences that many rows share, told once below the table.
type footnotes []string

// mark returns what stands for a sentence in the table.
func (f *footnotes) mark(sentence string) string {
	at := slices.Index(*f, sentence)
	if at < 0 {
		at = len(*f)
		*f = append(*f, sentence)
	}
	return fmt.Sprintf("none [%d]", at+1)
}

func (f footnotes) lines() []string {
	var all []string
	for i, sentence := range f {
		all = append(all, fmt.Sprintf("[%d] %s", i+1, sentence))
	}
	return all
}

// seriesRows are a row for each line from cleaning to cleaning; only the first carries the name.
func seriesRows(s trend.Series, missing *footnotes) [][]string {
	if len(s.Lines) == 0 {
		return [][]string{{s.Name(), "none", unknown, unknown, unknown, unknown, unknown}}
	}
	var rows [][]string
	for i, l := range s.Lines {
		name := s.Name()
		if i > 0 {
			name = "  after cleaning"
		}
		rows = append(rows, append([]string{name}, lineCells(l, missing)...))
	}
	return rows
}

func lineCells(l trend.Line, missing *footnotes) []string {
	first, last := l.Readings[0], l.Readings[len(l.Readings)-1]
	odometer, index := thousands(first.Odometer), number.Text(first.Index.Value, 1)
	if len(l.Readings) > 1 {
		odometer += " to " + thousands(last.Odometer)
		index += " to " + number.Text(last.Index.Value, 1)
	}
	growth, verdict := unknown, unknown
	if g := l.Growth; g != nil {
		growth, verdict = rangeCell(g.Figure), string(g.Verdict)
		if g.Verdict == trend.NotDistinguishable {
			verdict = "not sure"
		}
	}
	return []string{fmt.Sprint(len(l.Readings)), odometer, index, growth, verdict, forecastCell(l, missing)}
}

// forecastCell rounds to a thousand, which is finer than any forecast; where there is none a footnote says why.
func forecastCell(l trend.Line, missing *footnotes) string {
	f := l.Forecast
	if f == nil {
		return missing.mark(l.Missing)
	}
	round := func(v float64) string { return thousands(1000 * math.Round(v/1000)) }
	return fmt.Sprintf("%s (%s to %s)", round(f.Odometer.Value), round(f.Odometer.Low), round(f.Odometer.High))
}
