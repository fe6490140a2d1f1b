package terminal

import (
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

	"valvegrade/internal/number"
	"valvegrade/pkg/inspection"
	"valvegrade/pkg/trend"
)

// Trend prints one row for each line of the engine and its cylinders, and of each valve when valves is true; below it
// the estimates, why there is none, and what was converted, combined, assumed or left out. Sentences are broken at so
// many columns, and what a line rests on is left out where there is no room for it.
func Trend(w io.Writer, t *trend.Trend, valves bool, width int) error {
	if t.Inspections == 1 {
		return reading(w, t, valves, width)
	}
	of := fmt.Sprintf("%s; growth per %s %s", Printable(t.Vehicle), number.Thousands(trend.Per), t.Unit)
	if _, err := fmt.Fprintf(w, "%s\n\n", wrapped(of, width)); err != nil {
		return err
	}
	odometer := odometerIn(t)
	rows := [][]string{{"95 %", "READINGS", odometer, "INDEX", "GROWTH", "VERDICT"}}
	var told forecasts
	for _, s := range listed(t, valves) {
		rows = append(rows, seriesRows(s, t.Unit, &told)...)
	}
	if err := Columns(w, fitted(rows, width, "READINGS", odometer)); err != nil {
		return err
	}
	return paragraph(w, told.with(t.Notes).lines(), width)
}

// reading prints what a single inspection found, of which there is no trend yet.
func reading(w io.Writer, t *trend.Trend, valves bool, width int) error {
	missing := fmt.Sprintf("%s: one inspection gives no trend, as growth needs a second inspection at a higher odometer "+
		"reading; this one shows:", Printable(t.Vehicle))
	if _, err := fmt.Fprintf(w, "%s\n\n", wrapped(missing, width)); err != nil {
		return err
	}
	rows := [][]string{{"95 %", odometerIn(t), "INDEX"}}
	var told forecasts
	for _, s := range listed(t, valves) {
		if len(s.Lines) == 0 {
			rows = append(rows, []string{s.Name(), unknown, unknown})
			continue
		}
		only := s.Lines[0]
		rows = append(rows, []string{
			s.Name(), number.Thousands(only.Readings[0].Odometer), indexRangeCell(only.Readings[0].Index),
		})
		if only.Missing != trend.OneReading {
			told.add(only.Missing, s.Name())
		}
	}
	if err := Columns(w, rows); err != nil {
		return err
	}
	return paragraph(w, told.with(t.Notes).lines(), width)
}

// listed are the series of a table: valves only when asked for, and no worst and median of a single cylinder.
func listed(t *trend.Trend, valves bool) []trend.Series {
	cylinders := 0
	for _, s := range t.Series {
		if s.Kind == trend.OfCylinder {
			cylinders++
		}
	}
	return slices.DeleteFunc(slices.Clone(t.Series), func(s trend.Series) bool {
		switch s.Kind {
		case trend.EngineWorst, trend.EngineMedian:
			return cylinders == 1
		case trend.OfValve:
			return !valves
		}
		return false
	})
}

// odometerIn heads the column of odometer readings.
func odometerIn(t *trend.Trend) string { return "ODOMETER, " + string(t.Unit) }

// forecasts are sentences, each with the lines that it is about.
type forecasts []forecast

type forecast struct {
	sentence string
	of       []string
}

func (f *forecasts) add(sentence, of string) {
	at := slices.IndexFunc(*f, func(known forecast) bool { return known.sentence == sentence })
	if at < 0 {
		at = len(*f)
		*f = append(*f, forecast{sentence: sentence})
	}
	(*f)[at].of = append((*f)[at].of, of)
}

// with are they and sentences that are about no line.
func (f forecasts) with(notes []string) forecasts {
	for _, note := range notes {
		f = append(f, forecast{sentence: note})
	}
	return f
}

func (f forecasts) lines() []string {
	var all []string
	for _, one := range f {
		said := one.sentence
		if len(one.of) > 0 {
			said = strings.Join(one.of, ", ") + ": " + said
		}
		all = append(all, Printable(said))
	}
	return all
}

// seriesRows are a row for each line from cleaning to cleaning; only the first carries the name.
func seriesRows(s trend.Series, unit inspection.Unit, told *forecasts) [][]string {
	if len(s.Lines) == 0 {
		return [][]string{{s.Name(), "none", unknown, unknown, unknown, unknown}}
	}
	var rows [][]string
	for i, l := range s.Lines {
		name := s.Name()
		if i > 0 {
			name = "  after cleaning"
		}
		rows = append(rows, append([]string{name}, lineCells(l)...))
	}
	told.add(forecastSentence(s.Lines[len(s.Lines)-1], unit), s.Name())
	return rows
}

func lineCells(l trend.Line) []string {
	first, last := l.Readings[0], l.Readings[len(l.Readings)-1]
	odometer, index := number.Thousands(first.Odometer), indexCell(first.Index.Value)
	if len(l.Readings) > 1 {
		odometer, index = fromTo(odometer, number.Thousands(last.Odometer)), fromTo(index, indexCell(last.Index.Value))
	}
	growth, verdict := unknown, unknown
	if g := l.Growth; g != nil {
		growth, verdict = rangeCell(g.Figure), string(g.Verdict)
		if g.Verdict == trend.NotDistinguishable {
			verdict = "not sure"
		}
	}
	return []string{fmt.Sprint(len(l.Readings)), odometer, index, growth, verdict}
}

// forecastSentence rounds to a thousand, which is finer than any forecast.
func forecastSentence(l trend.Line, unit inspection.Unit) string {
	f := l.Forecast
	if f == nil {
		return "no estimate, " + l.Missing
	}
	round := func(v float64) string { return number.Thousands(1000 * math.Round(v/1000)) }
	return fmt.Sprintf("grade %d at about %s %s (%s to %s), an estimate", f.Grade,
		round(f.Odometer.Value), unit, round(f.Odometer.Low), round(f.Odometer.High))
}
