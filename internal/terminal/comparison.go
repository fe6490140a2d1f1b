package terminal

import (
	"errors"
	"fmt"
	"io"
	"math"
	"time"

	"valvegrade/internal/number"
	"valvegrade/pkg/compare"
	"valvegrade/pkg/reason"
)

// Pair prints what two photos say together, valve by valve.
func Pair(w io.Writer, p *compare.Pair) error {
	if len(p.Valves) == 1 {
		return Comparison(w, p.Valves[0])
	}
	for n, c := range p.Valves {
		blank := "\n"
		if n == 0 {
			blank = ""
		}
		if _, err := fmt.Fprintf(w, "%svalve %d of %d from the left\n", blank, n+1, len(p.Valves)); err != nil {
			return err
		}
		if err := Comparison(w, c); err != nil {
			return err
		}
	}
	return nil
}

// Comparison prints what two photos of one valve say together.
func Comparison(w io.Writer, c *compare.Comparison) error {
	if !c.Compared {
		return refusal(w, c.Reasons)
	}
	verdict := inWords(string(c.Verdict))
	if c.Forced {
		verdict += " (forced)"
	}
	if _, err := fmt.Fprintf(w, "%s: %s\n\n", verdict, Printable(c.Outcome())); err != nil {
		return err
	}
	if err := figuresTable(w, c); err != nil {
		return err
	}
	return lines(w, append(advice(c.Reasons), common(c)...))
}

// refusal prints what stopped a comparison, a line for each reason, and below it the cautions.
func refusal(w io.Writer, reasons []reason.Reason) error {
	var cautions []string
	var err error
	for _, r := range reasons {
		if !compare.Refuses([]reason.Reason{r}) {
			cautions = append(cautions, r.Advice)
			continue
		}
		_, failed := fmt.Fprintln(w, Printable("not compared: "+r.Advice))
		err = errors.Join(err, failed)
	}
	return errors.Join(err, lines(w, cautions))
}

func advice(reasons []reason.Reason) []string {
	var sentences []string
	for _, r := range reasons {
		sentences = append(sentences, r.Advice)
	}
	return sentences
}

func figuresTable(w io.Writer, c *compare.Comparison) error {
	rows := [][]string{
		{"", "BEFORE (95 %)", "AFTER (95 %)", "DIFFERENCE (95 %)", "SMALLEST DETECTABLE"},
		changeRow("index", c.Index), changeRow("coverage", c.Coverage),
	}
	for _, zone := range []compare.Zone{compare.Rim, compare.Fillet, compare.Stem} {
		if part, known := c.Zones[zone]; known {
			rows = append(
				rows,
				[]string{"index, " + string(zone), pointCell(part.Before.Index()), pointCell(part.After.Index())},
			)
		}
	}
	return Columns(w, rows)
}

func changeRow(name string, c compare.Change) []string {
	detectable := pointCell(c.Detectable)
	if !math.IsNaN(c.Detectable) && !c.CanShow() {
		detectable = "none: intervals too wide"
	}
	return []string{name, rangeCell(c.Before), rangeCell(c.After), rangeCell(c.Difference), detectable}
}

func pointCell(v float64) string {
	if math.IsNaN(v) {
		return unknown
	}
	return number.Text(v, 1)
}

// common says how the two photos were laid on each other and how much of the valve that leaves.
func common(c *compare.Comparison) []string {
	if math.IsNaN(c.Common) || c.Registration == nil {
		return nil
	}
	by := map[compare.Method]string{
		compare.BySurface: fmt.Sprintf(
			"marks on its surface, which match when it is turned by %s°: it is one valve",
			number.Text(c.Registration.Turn, 0),
		),
		compare.ByStem: "the direction of the stem",
	}
	return []string{
		fmt.Sprintf(
			"%.0f %% of the valve is in both photos; laid on each other by %s",
			100*c.Common,
			by[c.Registration.Method],
		),
	}
}

// EngineComparison prints the outcome of each cylinder, and below it that of each valve.
func EngineComparison(w io.Writer, e *compare.Engine) error {
	verdict := inWords(string(e.Verdict))
	if verdict == "" {
		verdict = "not compared"
	}
	if e.ByFigures() {
		verdict += " by the figures of whole valves; their photos may tell more"
	}
	_, err := fmt.Fprintf(
		w,
		"%s: %s, %s, to %s, %s: %s\n\n",
		Printable(e.Before.Vehicle),
		e.Before.Date.Format(
			time.DateOnly,
		),
		stages[e.Before.Stage],
		e.After.Date.Format(time.DateOnly),
		stages[e.After.Stage],
		verdict,
	)
	if err != nil {
		return err
	}
	rows := [][]string{
		{"", "CLEANED BY", "INDEX BEFORE", "INDEX AFTER", "DIFFERENCE (95 %)", "REMOVED (95 %)", "VERDICT"},
	}
	for _, c := range e.Cylinders {
		row := append([]string{fmt.Sprintf("cylinder %d", c.Number), Printable(c.Method)}, outcomeCells(c.Index)...)
		rows = append(rows, row)
		for _, v := range c.Valves {
			if len(c.Valves) > 1 {
				rows = append(rows, append([]string{fmt.Sprintf("  valve %d", v.Number), ""}, outcomeCells(v.Index)...))
			}
		}
	}
	if err := Columns(w, rows); err != nil {
		return err
	}
	var sentences []string
	for i := range e.Cylinders {
		sentences = append(sentences, e.Cylinders[i].Outcome())
	}
	return lines(w, append(sentences, e.Notes...))
}

// inWords are the words for a verdict, which documents call by its name.
func inWords(verdict string) string {
	if verdict == string(compare.NotDistinguishable) {
		return "no sure change"
	}
	return verdict
}

func outcomeCells(c compare.Change) []string {
	if c.Verdict() == "" {
		return []string{unknown, unknown, unknown, unknown, "not compared"}
	}
	removed := unknown
	if r := c.Removed(); !math.IsNaN(r.Value) {
		removed = fmt.Sprintf("%.0f %% (%.0f to %.0f)", 100*r.Value, 100*r.Low, 100*r.High)
	}
	d := c.Difference
	return []string{
		pointCell(c.Before.Value),
		pointCell(c.After.Value),
		rangeCell(d),
		removed,
		inWords(string(c.Verdict())),
	}
}
