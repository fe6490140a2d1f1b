package terminal

import (
	"fmt"
	"io"
	"math"
	"time"

	"valvegrade/internal/number"
	"valvegrade/pkg/deposit"
	"valvegrade/pkg/engine"
	"valvegrade/pkg/grade"
	"valvegrade/pkg/inspection"
	"valvegrade/pkg/measure"
)

// Engine prints the grades of an inspection: each cylinder with its valves, the engine's worst and median, and what is
// missing. Figures for which so many columns leave no room are left out.
func Engine(w io.Writer, e *engine.Engine, width int) error {
	i := e.Inspection
	facts := fmt.Sprintf("%s, %s, %s, %s", Printable(i.Vehicle), i.Date.Format(time.DateOnly), i.Odometer, stages[i.Stage])
	if _, err := fmt.Fprintf(w, "\n%s\n\n", wrapped(facts, width)); err != nil {
		return err
	}
	if err := Columns(w, engineRows(e, width)); err != nil {
		return err
	}
	var notes []string
	for _, note := range e.Notes {
		notes = append(notes, Printable(note))
	}
	return paragraph(w, notes, width)
}

// engineRows are the rows of an engine's table with what there is room for.
func engineRows(e *engine.Engine, width int) [][]string {
	rows := [][]string{
		{"", "GRADE", "0-4", "DARK DEPOSIT", "INDEX (95 %)", "PHOTOS", "CLEANED BY", "SPREAD", "BUILD-UP"},
	}
	for _, c := range e.Cylinders {
		rows = append(rows, cylinderRows(c, cleanedBy(e.Inspection, c))...)
	}
	if len(e.Cylinders) > 1 { // the only one is neither
		rows = append(rows, worstRow(e), summaryRow("median cylinder", e.Median, e.MedianGrades, ofGraded(e)))
	}
	last := "PHOTOS"
	if len(e.Inspection.Methods) == 0 { // nothing stands below the other header
		last = "CLEANED BY"
	}
	return fitted(fit(rows, width, "CLEANED BY", "SPREAD", "BUILD-UP", "INDEX (95 %)"), width, last)
}

// stages are the stages in words.
var stages = map[inspection.Stage]string{
	inspection.Routine: "routine inspection", inspection.Before: "before cleaning", inspection.After: "after cleaning",
}

// cleanedBy is how a cylinder was cleaned, "" when that is not said.
func cleanedBy(i *inspection.Inspection, c engine.Cylinder) string {
	if i.LeftAlone(c.Number) {
		return "left alone"
	}
	return Printable(c.Method)
}

// cylinderRows are a cylinder and below it its valves; a cylinder with one valve is one row.
func cylinderRows(c engine.Cylinder, method string) [][]string {
	name := fmt.Sprintf("cylinder %d", c.Number)
	if len(c.Valves) == 1 {
		return [][]string{valveRow(name, method, c.Valves[0])}
	}
	grade, likely, index := indexCells(c.Index, c.Grades)
	rows := [][]string{{name, grade, likely, darkCell(c.Dark), index, "", method, "", buildUpCell(c.BuildUp, c.Dark)}}
	for _, v := range c.Valves {
		rows = append(rows, valveRow(fmt.Sprintf("  valve %d", v.Number), "", v))
	}
	return rows
}

// valveRow holds grade, dark deposit and index, how many photos they rest on, how the valve was cleaned, the spread of
// the photos, and how thick the dark deposit is.
func valveRow(name, method string, v engine.Valve) []string {
	grade, likely, index := indexCells(v.Index, v.Grades)
	spread := unknown
	if !math.IsNaN(v.Spread) {
		spread = number.Text(v.Spread, 1)
	}
	photos := fmt.Sprintf("%d of %d", v.Used, len(v.Shots))
	return []string{name, grade, likely, darkCell(v.Dark), index, photos, method, spread, buildUpCell(v.BuildUp, v.Dark)}
}

// buildUpCell is "thick" or "thin"; of a valve with little dark deposit nobody asks.
func buildUpCell(b deposit.BuildUp, dark measure.Figure) string {
	switch {
	case b == "" || !(dark.Value >= deposit.LittleDark):
		return unknown
	case b == deposit.Unknown:
		return "not told"
	}
	return string(b)
}

// summaryRow is the engine's worst or median cylinder; of which cylinders it is stands where others have their dark deposit.
func summaryRow(name string, m measure.Figure, p grade.Probabilities, of string) []string {
	grade, likely, index := indexCells(m, p)
	return []string{name, grade, likely, of, index}
}

// worstRow names the worst cylinder and repeats its own figures, so that two rows never say two things of one cylinder.
func worstRow(e *engine.Engine) []string {
	c := e.WorstOne()
	if c == nil {
		return summaryRow("worst cylinder", measure.Unmeasured(), grade.Probabilities{}, "")
	}
	return summaryRow(fmt.Sprintf("worst cylinder, %d", c.Number), c.Index, c.Grades, ofGraded(e))
}

// ofGraded says of how many cylinders worst and median are, "" where all of them were graded, or none.
func ofGraded(e *engine.Engine) string {
	if n := e.CylindersGraded(); n > 0 && n < len(e.Cylinders) {
		return fmt.Sprintf("of %d graded", n)
	}
	return ""
}
