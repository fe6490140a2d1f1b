package report

import (
	"fmt"
	"strings"

	"valvegrade/pkg/deposit"
)

// Step is one grade in the drawing of how likely each is.
type Step struct {
	// Class is that of its plate, Share its probability, 0 to 1.
	Class string
	Share float64
}

// Steps are the grades 0 to 4 with their probabilities; nil where nothing was graded.
func (m *Model) Steps(r Reading) []Step {
	if r.Grade == nil {
		return nil
	}
	var steps []Step
	for value, share := range r.Grade.Probabilities {
		steps = append(steps, Step{fmt.Sprint(value), share})
	}
	return steps
}

// StepsAlt says in words what the steps show: every grade that has at least one chance in a hundred.
func (m *Model) StepsAlt(r Reading) string {
	var likely []string
	for value, step := range m.Steps(r) {
		if step.Share >= 0.01 {
			likely = append(likely, fmt.Sprintf(m.Texts.GradeOf, value, m.Texts.Grades[value].Name)+" "+m.likely(step.Share))
		}
	}
	return fmt.Sprintf(m.Texts.StepsAlt, strings.Join(likely, ", "))
}

// BuildUpLine says how thick the dark deposit is; "" where nothing is told of it.
func (m *Model) BuildUpLine(s State) string {
	unknown := m.Texts.BuildUpUnknown
	if s.Used > 1 {
		unknown = m.Texts.BuildUpUnknownSeveral
	}
	return map[deposit.BuildUp]string{
		deposit.Thick: m.Texts.BuildUpThick, deposit.Thin: m.Texts.BuildUpThin, deposit.Unknown: unknown,
	}[s.told()]
}

// told is the build-up, "" where nobody asked, or where there is no dark deposit to speak of.
func (s State) told() deposit.BuildUp {
	if s.BuildUp == deposit.Unknown && !(s.Dark.Value >= deposit.LittleDark) {
		return ""
	}
	return s.BuildUp
}
