package terminal

import (
	"fmt"
	"io"
	"math"
	"time"

	"valvegrade/internal/number"
	"valvegrade/pkg/engine"
	"valvegrade/pkg/inspection"
	"valvegrade/pkg/measure"
)

// Engine prints the grades of an inspection: each cylinder with its valves, the engine's worst and median, and what is
// missing. Below so many columns some figures are left out.
func Engine(w io.Writer, e *engine.Engine, width int) error {
	i := e.Inspection
	_, err := fmt.Fprintf(
		w,
		"\n%s, %s, %s %s, %s\n\n",
		Printable(
			i.Vehicle,
		),
		i.Date.Format(time.DateOnly),
		thousands(i.Odometer.Value),
		i.Odometer.Unit,
		stages[i.Stage],
	)
	if err != nil {
		return err
	}
	header := []string{"", "GRADE", "INDEX (95 %)", "PHOTOS", "CLEANED BY"}
	if width >= roomy {
		header = append(header, "COVERAGE", "SPREAD")
	}
	rows := [][]string{header}
	for _, c := range e.Cylinders {
		rows = append(rows, cylinderRows(c)...)
	}
	rows = append(rows, summaryRow(worstName(e), e.Worst), summaryRow("median cylinder", e.Median))
	for n, row := range rows {
		rows[n] = row[:min(len(row), len(header))]
	}
	if err := Columns(w, rows); err != nil {
		return err
	}
	var notes []string
	for _, note := range e.Notes {
		notes = append(notes, Printable(note))
	}
	return paragraph(w, notes, width)
}

// stages are the stages in words.
var stages = map[inspection.Stage]string{
	inspection.Routine: "routine inspection", inspection.Before: "before cleaning", inspection.After: "after cleaning",
}

// cylinderRows are a cylinder and below it its valves; a cylinder with one valve is one row.
func cylinderRows(c engine.Cylinder) [][]string {
	name, method := fmt.Sprintf("cylinder %d", c.Number), Printable(c.Method)
	if len(c.Valves) == 1 {
		return [][]string{valveRow(name, method, c.Index, c.Valves[0])}
	}
	grade, index := indexCells(c.Index)
	rows := [][]string{{name, grade, index, "", method}}
	for _, v := range c.Valves {
		rows = append(rows, valveRow(fmt.Sprintf("  valve %d", v.Number), "", v.Index, v))
	}
	return rows
}

// valveRow holds grade and index, how many photos they rest on, how the valve was cleaned, coverage and the spread of
// the photos.
func valveRow(name, method string, figure measure.Figure, v engine.Valve) []string {
	grade, index := indexCells(figure)
	coverage, spread := unknown, unknown
	if v.Coverage.Known() {
		coverage = number.Text(v.Coverage.Value, 0) + " %"
	}
	if !math.IsNaN(v.Spread) {
		spread = number.Text(v.Spread, 1)
	}
	return []string{name, grade, index, fmt.Sprintf("%d of %d", v.Used, len(v.Shots)), method, coverage, spread}
}

func summaryRow(name string, m measure.Figure) []string {
	grade, index := indexCells(m)
	return []string{name, grade, index}
}

func worstName(e *engine.Engine) string {
	if e.WorstCylinder == 0 {
		return "worst cylinder"
	}
	return fmt.Sprintf("worst cylinder, %d", e.WorstCylinder)
}
