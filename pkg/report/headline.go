package report

import (
	"fmt"
	"math"
	"strings"
	"unicode"
	"unicode/utf8"

	"valvegrade/pkg/compare"
	"valvegrade/pkg/grade"
	"valvegrade/pkg/inspection"
)

// headline says what the comparison of the engine comes to, and which cylinders say otherwise or nothing.
func (m *Model) headline() string {
	parts := []string{m.engineOutcome()}
	otherwise := m.Change.Otherwise()
	if len(otherwise.Changed) > 0 {
		parts = append(parts, fmt.Sprintf(m.Texts.CylindersChanged, m.cylinders(otherwise.Changed)))
	}
	if len(otherwise.ByChance) > 0 {
		parts = append(parts, fmt.Sprintf(m.Texts.CylindersByChance, m.cylinders(otherwise.ByChance), otherwise.Of))
	}
	var against, missing []int
	for _, c := range m.Change.Standing() {
		if m.Change.Changes.Verdict() == compare.Changed && more(c.Changes) != more(m.Change.Changes) {
			against = append(against, c.Number)
		}
	}
	if len(against) > 0 {
		form := m.Between.CylindersMore
		if more(m.Change.Changes) {
			form = m.Between.CylindersLess
		}
		parts = append(parts, fmt.Sprintf(form, m.cylinders(against)))
	}
	for _, told := range m.Cylinders {
		c := m.Change.Cylinders[told.Number-1]
		graded := told.Readings[0].Grade != nil && told.Readings[1].Grade != nil
		if c.Verdict == "" && !c.LeftAlone && graded && m.Change.Verdict != "" { // others are named as not graded
			missing = append(missing, c.Number)
		}
	}
	if len(missing) > 0 {
		parts = append(parts, fmt.Sprintf(m.Texts.CylindersNotCompared, m.cylinders(missing)))
	}
	if alone := m.Change.LeftAlone(); len(alone) > 0 {
		parts = append(parts, fmt.Sprintf(m.Texts.CylindersLeftAlone, m.cylinders(alone)))
	}
	return strings.Join(parts, " ")
}

func more(c compare.Changes) bool { return c.Leading().Difference.Value > 0 }

// engineOutcome is the mean of all valves in one sentence.
func (m *Model) engineOutcome() string {
	e := m.Change
	first, second := m.beforeAndAfter(e.Changes)
	of := ""
	if compared, all := e.Compared(); compared < all {
		of = fmt.Sprintf(m.Texts.ValvesOf, compared, all)
	}
	first += of
	switch e.Changes.Verdict() {
	case "":
		before, after := m.Visits[0], m.Visits[1]
		return fmt.Sprintf(m.Between.NothingCompared, m.GradeText(before.Worst()), m.GradeText(after.Worst()))
	case compare.NoClaim:
		return sentence(fmt.Sprintf(m.Texts.NothingClaimed, first))
	case compare.NotDistinguishable:
		return sentence(m.noChange(e.Changes, first))
	}
	name, d := m.Texts.Dark, e.Leading().Shown()
	if e.IndexLeads() {
		name, first = m.Texts.Index, fmt.Sprintf(m.Texts.Both, first, second)
	}
	name += of
	points, low, high := m.Locale.Number(math.Abs(d.Value), 0), d.Low, d.High
	less := !more(e.Changes)
	if less {
		low, high = -d.High, -d.Low
	}
	between := fmt.Sprintf(m.Texts.Range, m.Locale.Number(low, 0), m.Locale.Number(high, 0))
	switch {
	case e.Cleaned() && less:
		return fmt.Sprintf(m.Texts.Helped, m.likely(e.Leading().Less()), first)
	case e.Cleaned():
		return fmt.Sprintf(m.Texts.DidNotHelp, first, points, between)
	case !less:
		return fmt.Sprintf(m.Texts.Grew, name, points, between, m.over())
	}
	return fmt.Sprintf(m.Texts.Fell, name, points, between, m.over())
}

// over is the distance between the two inspections, to hundreds; "" where nothing was driven.
func (m *Model) over() string {
	if m.Change.Driven() < inspection.SameReading {
		return ""
	}
	unit := m.Locale.Unit
	driven := m.Change.After.Odometer.In(unit) - m.Change.Before.Odometer.In(unit)
	return fmt.Sprintf(m.Texts.Over, m.Locale.Far(100*math.Round(driven/100)))
}

// likely writes a probability.
func (m *Model) likely(share float64) string { return m.Locale.Percent(grade.Likely(share)) }

// cylinders names one or several.
func (m *Model) cylinders(which []int) string {
	if len(which) == 1 {
		return m.Texts.Cylinder + " " + numbers(which)
	}
	return m.Texts.Cylinders + " " + numbers(which)
}

// sentence gives a text its capital letter.
func sentence(text string) string {
	first, size := utf8.DecodeRuneInString(text)
	return string(unicode.ToUpper(first)) + text[size:]
}
