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
// missing.
func Engine(w io.Writer, e *engine.Engine) error {
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
	rows := [][]string{{"", "GRADE", "INDEX (95 %)", "COVERAGE", "PHOTOS USED", "SPREAD", "CLEANED BY"}}
	for _, c := range e.Cylinders {
		rows = append(rows, cylinderRows(c)...)
	}
	rows = append(rows, summaryRow(worstName(e), e.Worst), summaryRow("median cylinder", e.Median))
	if err := Columns(w, rows); err != nil {
		return err
	}
	return lines(w, e.Notes)
}

// stages are the stages in words.
var stages = map[inspection.Stage]string{
	inspection.Routine: "routine inspection", inspection.Before: "before cleaning", inspection.After: "after cleaning",
}

// cylinderRows are a cylinder and below it its valves; a cylinder with one valve is one row.
func cylinderRows(c engine.Cylinder) [][]string {
	grade, index := indexCells(c.Index)
	row := []string{fmt.Sprintf("cylinder %d", c.Number), grade, index, "", "", "", Printable(c.Method)}
	if len(c.Valves) == 1 {
		copy(row[3:], valveCells(c.Valves[0]))
		return [][]string{row}
	}
	rows := [][]string{row}
	for _, v := range c.Valves {
		grade, index := indexCells(v.Index)
		rows = append(rows, append([]string{fmt.Sprintf("  valve %d", v.Number), grade, index}, valveCells(v)...))
	}
	return rows
}

// valveCells are coverage, photos and spread.
func valveCells(v engine.Valve) []string {
	coverage, spread := unknown, unknown
	if v.Coverage.Known() {
		coverage = number.Text(v.Coverage.Value, 0) + " %"
	}
	if !math.IsNaN(v.Spread) {
		spread = number.Text(v.Spread, 1)
	}
	return []string{coverage, fmt.Sprintf("%d of %d", v.Used, len(v.Shots)), spread}
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
