package terminal

import (
	"cmp"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"time"

	"valvegrade/internal/number"
	"valvegrade/pkg/compare"
	"valvegrade/pkg/inspection"
	"valvegrade/pkg/measure"
	"valvegrade/pkg/reason"
)

// Pair prints what two photos say together, valve by valve, in lines of at most so many columns.
func Pair(w io.Writer, p *compare.Pair, width int) error {
	if len(p.Valves) == 1 {
		return Comparison(w, p.Valves[0], width)
	}
	for n, c := range p.Valves {
		blank := "\n"
		if n == 0 {
			blank = ""
		}
		if _, err := fmt.Fprintf(w, "%svalve %d of %d from the left\n", blank, n+1, len(p.Valves)); err != nil {
			return err
		}
		if err := Comparison(w, c, width); err != nil {
			return err
		}
	}
	return nil
}

// Comparison prints what two photos of one valve say together.
func Comparison(w io.Writer, c *compare.Comparison, width int) error {
	if !c.Compared {
		return refusal(w, c.Reasons, width)
	}
	said := c.Outcome()
	switch {
	case c.Forced:
		said = string(c.Verdict) + " (forced): " + said
	case c.Verdict != compare.NotDistinguishable: // which the outcome says itself
		said = string(c.Verdict) + ": " + said
	}
	if _, err := fmt.Fprintf(w, "%s\n\n", wrapped(Printable(said), width)); err != nil {
		return err
	}
	if err := figuresTable(w, c); err != nil {
		return err
	}
	return paragraph(w, append(advice(c.Reasons), common(c)...), width)
}

// refusal prints what stopped a comparison, a line for each reason, and below it the cautions.
func refusal(w io.Writer, reasons []reason.Reason, width int) error {
	var cautions []string
	var err error
	for _, r := range reasons {
		if !compare.Refuses([]reason.Reason{r}) {
			cautions = append(cautions, Printable(r.Advice))
			continue
		}
		_, failed := fmt.Fprintln(w, wrapped(Printable("not compared: "+r.Advice), width))
		err = errors.Join(err, failed)
	}
	return errors.Join(err, paragraph(w, cautions, width))
}

func advice(reasons []reason.Reason) []string {
	var sentences []string
	for _, r := range reasons {
		sentences = append(sentences, Printable(r.Advice))
	}
	return sentences
}

// figuresTable has a row for each figure; SURE ABOVE is the smallest change that the photos can show.
func figuresTable(w io.Writer, c *compare.Comparison) error {
	rows := [][]string{
		{"95 %", "BEFORE", "AFTER", "DIFFERENCE", "SURE ABOVE"},
		changeRow("dark deposit, %", c.Dark, wholeRangeCell), changeRow("index", c.Index, indexRangeCell),
	}
	for _, zone := range []compare.Zone{compare.Rim, compare.Fillet, compare.Stem} {
		if part, known := c.Zones[zone]; known {
			rows = append(rows, []string{
				"  index, " + string(zone), indexCell(part.Before.Index()), indexCell(part.After.Index()),
			})
		}
	}
	return Columns(w, rows)
}

func changeRow(name string, c compare.Change, written func(measure.Figure) string) []string {
	return []string{name, written(c.Before), written(c.After), wholeRangeCell(c.Shown()), detectableCell(c)}
}

// detectableCell is the smallest change that the photos can show, in whole points.
func detectableCell(c compare.Change) string {
	if !math.IsNaN(c.Detectable) && !c.CanShow() {
		return "never"
	}
	return wholeCell(c.SureAbove())
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
			"%s %% of the valve is in both photos; laid on each other by %s",
			number.Text(100*c.Common, 0),
			by[c.Registration.Method],
		),
	}
}

// EngineComparison prints what became of the engine, a row for each cylinder and valve, and the outcome of each
// cylinder; above all that what speaks against the order of the two inspections. Where so many columns have no room for all,
// the smallest changes to be seen are left out, then the difference of the index.
func EngineComparison(w io.Writer, e *compare.Engine, width int) error {
	wrong := compare.Backwards(e.Before, e.After)
	if wrong != "" {
		if _, err := fmt.Fprintln(w, wrapped(wrong, width)); err != nil {
			return err
		}
	}
	_, err := fmt.Fprintf(w, "%s\n%s\n\n",
		wrapped(fmt.Sprintf("%s: %s, to %s", Printable(e.Before.Vehicle), when(e.Before), when(e.After)), width),
		wrapped(e.Outcome(), width))
	if err != nil {
		return err
	}
	rows := [][]string{{"95 %", "DARK, %", "DIFFERENCE", "SURE ABOVE", "INDEX", "DIFFERENCE", "SURE ABOVE", "VERDICT"}}
	var sentences []string
	for n := range e.Cylinders {
		c := &e.Cylinders[n]
		heard := c.Heard()
		if heard == nil {
			continue
		}
		sentences = append(sentences, Printable(c.Outcome()))
		rows = append(rows, append([]string{fmt.Sprintf("cylinder %d", c.Number)}, outcomeCells(c.Changes)...))
		for _, v := range heard {
			if len(c.Valves) > 1 {
				rows = append(rows, append([]string{fmt.Sprintf("  valve %d", v.Number)}, outcomeCells(v.Changes)...))
			}
		}
	}
	all := "all valves"
	if len(e.LeftAlone()) > 0 {
		all = "all cleaned"
	}
	if n, of := e.Compared(); n > 0 && n < of {
		all = fmt.Sprintf("%d of %d valves", n, of)
		if len(e.LeftAlone()) > 0 {
			all = fmt.Sprintf("%d of %d cleaned", n, of)
		}
	}
	rows = append(rows, append([]string{all}, outcomeCells(e.Changes)...))
	if err := Columns(w, fitted(rows, width, "SURE ABOVE", "SURE ABOVE", "DIFFERENCE")); err != nil {
		return err
	}
	for _, note := range append(slices.Clone(e.Notes), e.ByHand()...) {
		if note == wrong {
			continue
		}
		sentences = append(sentences, Printable(note))
	}
	return paragraph(w, sentences, width)
}

// when is the day and stage of an inspection.
func when(i *inspection.Inspection) string {
	if !i.Dated() {
		return stages[i.Stage]
	}
	return i.Date.Format(time.DateOnly) + ", " + stages[i.Stage]
}

// outcomeCells are before and after, the difference and the smallest change to be seen of either figure, and the verdict.
func outcomeCells(c compare.Changes) []string {
	var cells []string
	for _, one := range []struct {
		compare.Change
		written func(float64) string
	}{{c.Dark, wholeCell}, {c.Index, indexCell}} {
		if one.Verdict() == "" {
			cells = append(cells, unknown, unknown, unknown)
			continue
		}
		cells = append(cells, fromTo(one.written(one.Before.Value), one.written(one.After.Value)), wholeRangeCell(one.Shown()),
			detectableCell(one.Change))
	}
	return append(cells, verdictCell(c))
}

// verdictCell says which figure has changed where it is not the dark deposit, whose difference is the first that is read.
func verdictCell(c compare.Changes) string {
	if c.Verdict() == compare.Changed && c.IndexLeads() {
		return "index changed"
	}
	return cmp.Or(c.Verdict().Words(), unknown)
}
