package report

import (
	"fmt"

	"valvegrade/pkg/inspection"
)

// GradeText names the grade of a reading: "grade 2 patchy", "not graded".
func (m *Model) GradeText(r Reading) string {
	if r.Grade == nil {
		return m.Texts.NotGraded
	}
	return m.Texts.GradeName(r.Grade.Value, r.Grade.Borderline)
}

// Worst and Median are the engine's readings in a visit.
func (v Visit) Worst() Reading { return readingOf(v.Engine.Worst) }

// Median is the middle of the cylinders.
func (v Visit) Median() Reading { return readingOf(v.Engine.Median) }

func readingOf(index inspection.Measure) Reading {
	return Reading{Index: index, Coverage: inspection.Unmeasured(), Grade: index.Grade()}
}

// summarise says the whole result in one line.
func (m *Model) summarise() string {
	first, last := m.Visits[0], m.Visits[len(m.Visits)-1]
	if first.Worst().Grade == nil && last.Worst().Grade == nil {
		return m.Texts.NothingGraded
	}
	if len(m.Visits) == 2 {
		return fmt.Sprintf(m.Texts.ChangeSummary,
			m.GradeText(first.Worst()), m.GradeText(last.Worst()), m.GradeText(first.Median()), m.GradeText(last.Median()))
	}
	worst := first.Worst()
	return fmt.Sprintf(m.Texts.EngineSummary, m.GradeText(worst), first.Engine.WorstCylinder,
		m.Locale.Number(worst.Index.Value, 1), m.Locale.Range(worst.Index), m.GradeText(first.Median()))
}

// linesOf writes the two or three lines of a cylinder that go on an invoice.
func (m *Model) linesOf(c Cylinder) []string {
	if len(c.Readings) == 2 {
		return m.changeLines(c)
	}
	r := c.Readings[0]
	if r.Grade == nil {
		return []string{fmt.Sprintf(m.Texts.CylinderMissing, c.Number)}
	}
	return []string{
		fmt.Sprintf(m.Texts.CylinderLine, c.Number, m.GradeText(r), m.Locale.Number(r.Index.Value, 1), m.Locale.Range(r.Index)),
		fmt.Sprintf(m.Texts.PracticeLine, m.Texts.Grades[r.Grade.Value].Practice),
	}
}

func (m *Model) changeLines(c Cylinder) []string {
	lines := []string{fmt.Sprintf(m.Texts.CylinderChange, c.Number, m.GradeText(c.Readings[0]), m.GradeText(c.Readings[1]))}
	if c.Method != "" {
		lines = append(lines, fmt.Sprintf(m.Texts.CylinderMethod, c.Number, c.Method))
	}
	if change := m.Change.Cylinders[c.Number-1]; change.Verdict != "" {
		lines = append(lines, fmt.Sprintf(m.Texts.CylinderOutcome, c.Number, m.changeSentence(change.Index)))
	}
	return lines
}
