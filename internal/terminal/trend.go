package terminal

import (
	"fmt"
	"io"
	"math"

	"valvegrade/pkg/trend"
)

// Trend prints one row for each line of the engine and its cylinders, and of each valve when valves is true; below it what
// was converted, combined, assumed or left out.
func Trend(w io.Writer, t *trend.Trend, valves bool) error {
	if _, err := fmt.Fprintf(w, "%s\n\n", Printable(t.Vehicle)); err != nil {
		return err
	}
	rows := [][]string{{
		"", "READINGS", "ODOMETER, " + string(t.Unit), "INDEX",
		fmt.Sprintf("GROWTH PER %s %s (95 %%)", thousands(trend.Per), t.Unit), "VERDICT", "GRADE 3 AT (ESTIMATE)",
	}}
	for _, s := range t.Series {
		if s.Kind == trend.OfValve && !valves {
			continue
		}
		rows = append(rows, seriesRows(s)...)
	}
	if err := columns(w, rows); err != nil {
		return err
	}
	return lines(w, t.Notes)
}

// seriesRows are a row for each line from cleaning to cleaning; only the first carries the name.
func seriesRows(s trend.Series) [][]string {
	if len(s.Lines) == 0 {
		return [][]string{{s.Name(), "none", unknown, unknown, unknown, unknown, unknown}}
	}
	var rows [][]string
	for i, l := range s.Lines {
		name := s.Name()
		if i > 0 {
			name = "  after cleaning"
		}
		rows = append(rows, append([]string{name}, lineCells(l)...))
	}
	return rows
}

func lineCells(l trend.Line) []string {
	first, last := l.Readings[0], l.Readings[len(l.Readings)-1]
	odometer, index := thousands(first.Odometer), fmt.Sprintf("%.1f", first.Index.Value)
	if len(l.Readings) > 1 {
		odometer += " to " + thousands(last.Odometer)
		index += fmt.Sprintf(" to %.1f", last.Index.Value)
	}
	growth, verdict := unknown, unknown
	if g := l.Growth; g != nil {
		growth, verdict = rangeCell(g.Value, g.Low, g.High), string(g.Verdict)
	}
	return []string{fmt.Sprint(len(l.Readings)), odometer, index, growth, verdict, forecastCell(l)}
}

// forecastCell rounds to a thousand, which is finer than any forecast; where there is none it says why.
func forecastCell(l trend.Line) string {
	f := l.Forecast
	if f == nil {
		return l.Missing
	}
	round := func(v float64) string { return thousands(1000 * math.Round(v/1000)) }
	return fmt.Sprintf("%s (%s to %s)", round(f.Odometer), round(f.Earliest), round(f.Latest))
}
