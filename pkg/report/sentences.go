package report

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"valvegrade/pkg/compare"
	"valvegrade/pkg/deposit"
	"valvegrade/pkg/grade"
	"valvegrade/pkg/inspection"
	"valvegrade/pkg/measure"
	"valvegrade/pkg/score"
)

// GradeText names the grade of a reading: "grade 2 patchy", "not graded".
func (m *Model) GradeText(r Reading) string {
	if r.Grade == nil {
		return m.Texts.NotGraded
	}
	return m.Texts.GradeName(r.Grade)
}

// Worst is the reading of the worst cylinder in a visit.
func (v Visit) Worst() Reading {
	if c := v.Engine.WorstOne(); c != nil {
		return readingOf(c.Index, c.Grades)
	}
	return readingOf(measure.Unmeasured(), grade.Probabilities{})
}

// Median is the middle of the cylinders.
func (v Visit) Median() Reading { return readingOf(v.Engine.Median, v.Engine.MedianGrades) }

func readingOf(index measure.Figure, p grade.Probabilities) Reading {
	r := measure.NoReading()
	r.Index = index
	return Reading{r, grade.Of(index, p)}
}

// summarise says the whole result in one line, and what it lacks.
func (m *Model) summarise() string {
	if missing := m.ungraded(); missing != "" {
		return m.found() + " " + missing
	}
	return m.found()
}

// ungraded names the cylinders without a grade, "" when there are none or no others.
func (m *Model) ungraded() string {
	forms := []string{m.Texts.UngradedOne}
	if len(m.Visits) == 2 {
		forms = []string{m.Between.UngradedBefore, m.Between.UngradedAfter}
	}
	var missing []string
	for _, c := range m.Cylinders {
		for visit, r := range c.Readings {
			if r.Grade == nil {
				missing = append(missing, fmt.Sprintf(forms[visit], c.Number))
			}
		}
	}
	if len(missing) == 0 || len(missing) == len(m.Cylinders)*len(m.Visits) {
		return ""
	}
	return fmt.Sprintf(m.Texts.Ungraded, strings.Join(missing, ", "))
}

// leftOut reports whether somebody left all photos out.
func (m *Model) leftOut() bool {
	return !slices.ContainsFunc(m.Visits, func(v Visit) bool {
		return slices.ContainsFunc(v.Engine.Inspection.Photos, func(p inspection.Photo) bool { return p.LeftOut == nil })
	})
}

// found says what was found in one line.
func (m *Model) found() string {
	first, last := m.Visits[0], m.Visits[len(m.Visits)-1]
	if first.Worst().Grade == nil && last.Worst().Grade == nil {
		if m.leftOut() {
			return m.Texts.NothingCounts
		}
		return m.Texts.NothingGraded
	}
	if m.Change != nil {
		return m.headline()
	}
	worst := first.Worst()
	if len(m.Cylinders) == 1 {
		return sentence(fmt.Sprintf(m.Texts.CylinderSummary, m.GradeText(worst), m.IndexValue(worst.Index.Value), m.Locale.Range(worst.Index, 0)))
	}
	return fmt.Sprintf(m.Texts.EngineSummary, m.GradeText(worst), first.Engine.WorstCylinder,
		m.IndexValue(worst.Index.Value), m.Locale.Range(worst.Index, 0), m.GradeText(first.Median()))
}

// linesOf writes the few lines of a cylinder that go on an invoice.
func (m *Model) linesOf(c Cylinder) []string {
	if len(c.Readings) == 2 {
		return m.changeLines(c)
	}
	r := c.Readings[0]
	if r.Grade == nil {
		return []string{m.missingLine(c)}
	}
	return []string{
		m.cylinderLine(c.Number, r),
		m.decision(r.Grade, c.BuildUps[0]),
	}
}

func (m *Model) cylinderLine(number int, r Reading) string {
	return fmt.Sprintf(m.Texts.CylinderLine, number, m.GradeText(r), m.Percentage(r.Dark), m.Index(r.Index))
}

// graded counts the valves that were graded in a visit.
func (c Cylinder) graded(visit int) int {
	n := 0
	for _, v := range c.Valves {
		if v.States[visit].Grade != nil {
			n++
		}
	}
	return n
}

// held names a cylinder, or what of it was graded in both visits: "2", "2, valve 1".
func (m *Model) held(c Cylinder) string {
	if c.Common == nil {
		return strconv.Itoa(c.Number)
	}
	return fmt.Sprintf(m.Texts.OfValves, c.Number, numbers(c.Common))
}

func numbers(of []int) string {
	words := make([]string, len(of))
	for i, n := range of {
		words[i] = strconv.Itoa(n)
	}
	return strings.Join(words, ", ")
}

// missingLine says that a cylinder is not graded, and what was wrong with its photos.
func (m *Model) missingLine(c Cylinder) string {
	var why []string
	photos, count := 0, 0
	for _, v := range c.Valves {
		for _, p := range v.States[0].Photos {
			photos++
			if p.LeftOut != nil {
				continue
			}
			count++
			for _, r := range p.Record.Reasons {
				if said := m.against(r); p.Record.Status == score.Refused && !slices.Contains(why, said) {
					why = append(why, said)
				}
			}
		}
	}
	switch {
	case photos == 0:
		why = []string{m.Texts.NoPhoto}
	case count == 0:
		why = []string{m.Texts.AllLeftOut}
	}
	if why == nil {
		return fmt.Sprintf(m.Texts.CylinderMissing, c.Number)
	}
	return fmt.Sprintf(m.Texts.CylinderRefused, c.Number, strings.Join(why, ", "))
}

// decision says whether cleaning is due, how likely that is, and what is commonly done then: less than for a thick crust
// where the dark deposit is thin.
func (m *Model) decision(g *grade.Grade, buildUp deposit.BuildUp) string {
	decision, certainty := g.Probabilities.Decide()
	likely := m.Locale.Percent(grade.Certainty(certainty))
	forms := map[grade.Decision]string{
		grade.CleaningDue: m.Texts.CleaningDue, grade.NothingToDo: m.Texts.NothingToDo, grade.NotYetDue: m.Texts.NotYetDue,
	}
	if form, decided := forms[decision]; decided {
		return fmt.Sprintf(form, likely, m.practice(decision.Practised(g.Value, buildUp == deposit.Thin)))
	}
	return fmt.Sprintf(m.Texts.CannotSay, likely)
}

func (m *Model) changeLines(c Cylinder) []string {
	var lines []string
	if c.Common == nil || len(c.Common) > 0 {
		lines = append(lines, fmt.Sprintf(m.Between.CylinderChange, m.held(c), m.GradeText(c.Readings[0]), m.GradeText(c.Readings[1])))
	}
	for visit, r := range c.Whole { // what else was graded then
		if c.Common != nil && r.Grade != nil && len(c.Common) < c.graded(visit) {
			lines = append(lines, m.of(visit, m.cylinderLine(c.Number, r)))
		}
	}
	if g := c.Whole[1].Grade; g != nil {
		lines = append(lines, m.of(1, m.decision(g, c.WholeBuildUps[1])))
	}
	if c.Method != "" {
		lines = append(lines, fmt.Sprintf(m.Texts.CylinderMethod, c.Number, c.Method))
	}
	if c.LeftAlone {
		lines = append(lines, fmt.Sprintf(m.Texts.CylinderLeftAlone, c.Number))
	}
	change := m.Change.Cylinders[c.Number-1]
	if change.Verdict == "" {
		return append(lines, fmt.Sprintf(m.Texts.CylinderNotCompared, c.Number, strings.Join(m.refused(c, change), "; ")))
	}
	return append(lines, fmt.Sprintf(m.Texts.CylinderOutcome, c.Number, m.compared(change), m.changeSentence(change.Changes)))
}

// refused are the reasons for which the valves of a cylinder were not compared, each once.
func (m *Model) refused(c Cylinder, change compare.Cylinder) []string {
	var why []string
	for n, v := range change.Heard() {
		if v.Compared {
			continue
		}
		if said := m.notCompared(v.Comparison, c.Valves[n].States); !slices.Contains(why, said) {
			why = append(why, said)
		}
	}
	return why
}

// compared says of what the change of a cylinder is: of which valves, and of what their photos show.
func (m *Model) compared(c compare.Cylinder) string {
	var valves []compare.Valve
	wholes := 0
	for _, v := range c.Valves {
		if !v.Compared {
			continue
		}
		valves = append(valves, v)
		if math.IsNaN(v.Common) {
			wholes++
		}
	}
	switch {
	case len(valves) == 1 && wholes == 1:
		return fmt.Sprintf(m.Texts.ValveWhole, valves[0].Number)
	case len(valves) == 1:
		return fmt.Sprintf(m.Between.ValveCommon, valves[0].Number)
	case wholes == len(valves):
		return m.Texts.MeanWhole
	case wholes == 0:
		return m.Between.MeanCommon
	default:
		return m.Texts.MeanMixed
	}
}

// practice is what is commonly done at a grade. Its distance, which the scale has in miles, is in the unit of the
// report alone, as all others are.
func (m *Model) practice(value int) string {
	unit := m.Locale.Unit
	between := func(miles float64) string { return m.Locale.Number(unit.Thousands(miles), 0) }
	again := fmt.Sprintf(m.Texts.Range, between(grade.Soonest), between(grade.Latest)) + "\u00a0" + string(unit)
	return strings.Replace(m.Texts.Grades[value].Practice, "%s", again, 1)
}

// wholeThousand rounds a distance that nobody knows better.
func wholeThousand(distance float64) float64 { return 1000 * math.Round(distance/1000) }

// refusals say of each photo that left its valve without a grade what was wrong with it, and which valves have none where
// others of the cylinder were graded: else the cylinder's own lines say that it has no photo.
func (m *Model) refusals(c Cylinder) []string {
	var lines []string
	for _, v := range c.Valves {
		for visit, state := range v.States {
			if len(state.Photos) == 0 && c.graded(visit) > 0 {
				lines = append(lines, m.of(visit, fmt.Sprintf(m.Texts.ValveMissing, v.Cylinder, v.Number, m.Texts.NoPhoto)))
			}
			for _, p := range state.Photos {
				if state.Grade != nil || p.Record.Status != score.Refused || p.LeftOut != nil {
					continue
				}
				for _, why := range m.Remarks(p.Record) {
					line := fmt.Sprintf(m.Texts.PhotoRefused, v.Cylinder, v.Number, p.Name(), why)
					lines = append(lines, m.of(visit, line))
				}
			}
		}
	}
	return lines
}
