package terminal

import (
	"fmt"
	"io"
	"math"
	"time"

	"valvegrade/internal/number"
	"valvegrade/pkg/engine"
	"valvegrade/pkg/grade"
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
	rows := [][]string{{"", "GRADE", "0-4", "DARK DEPOSIT", "INDEX (95 %)", "PHOTOS USED", "SPREAD", "CLEANED BY"}}
	for _, c := range e.Cylinders {
		rows = append(rows, cylinderRows(c)...)
	}
	rows = append(rows,
		summaryRow(worstName(e), e.Worst, e.WorstGrades), summaryRow("median cylinder", e.Median, e.MedianGrades),
	)
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
	grade, likely, index := indexCells(c.Index, c.Grades)
	row := []string{
		fmt.Sprintf("cylinder %d", c.Number), grade, likely, darkCell(c.Dark), index, "", "", Printable(c.Method),
	}
	if len(c.Valves) == 1 {
		copy(row[5:], valveCells(c.Valves[0]))
		return [][]string{row}
	}
	rows := [][]string{row}
	for _, v := range c.Valves {
		grade, likely, index := indexCells(v.Index, v.Grades)
		row := []string{fmt.Sprintf("  valve %d", v.Number), grade, likely, darkCell(v.Dark), index}
		rows = append(rows, append(row, valveCells(v)...))
	}
	return rows
}

// valveCells are photos and spread.
func valveCells(v engine.Valve) []string {
	spread := unknown
	if !math.IsNaN(v.Spread) {
		spread = number.Text(v.Spread, 1)
	}
	return []string{fmt.Sprintf("%d of %d", v.Used, len(v.Shots)), spread}
}

func summaryRow(name string, m measure.Figure, p grade.Probabilities) []string {
	grade, likely, index := indexCells(m, p)
	return []string{name, grade, likely, "", index}
}

func worstName(e *engine.Engine) string {
	if e.WorstCylinder == 0 {
		return "worst cylinder"
	}
	return fmt.Sprintf("worst cylinder, %d", e.WorstCylinder)
}
