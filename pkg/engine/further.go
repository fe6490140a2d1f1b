package engine

import (
	"valvegrade/internal/number"
	"valvegrade/pkg/grade"
	"valvegrade/pkg/measure"
)

// worthwhile is by how many points one photo more must narrow half an interval to be worth a word.
const worthwhile = 2

// Further returns the half width, in points, that the interval of the dark deposit would have with one photo more, as
// sure as those there are and of the same mind (MeanOf, all weighing the same); NaN where nothing was measured.
func (v Valve) Further() float64 {
	figures := each(v.measured(), func(s Shot) measure.Figure { return s.Dark })
	n := float64(len(figures))
	if n == 0 || !v.Dark.Known() {
		return measure.Unmeasured().Value
	}
	further := v.Dark
	for _, f := range figures {
		further.Low -= (f.Value - f.Low - (v.Dark.Value - v.Dark.Low)) / n
		further.High += (f.High - f.Value - (v.Dark.High - v.Dark.Value)) / n
	}
	weights := make([]float64, len(figures)+1)
	for i := range weights {
		weights[i] = 1 / (n + 1)
	}
	return halfWidth(MeanOf(append(figures, further), weights).Figure)
}

func halfWidth(f measure.Figure) float64 { return (f.High - f.Low) / 2 }

// noteFurther tells, of valves of which the photos cannot say whether a cleaning is due, what one photo more would
// bring.
func (e *Engine) noteFurther() {
	for _, c := range e.Cylinders {
		for _, v := range c.Valves {
			decision, _ := v.Grades.Decide()
			now, then := halfWidth(v.Dark), v.Further()
			if decision == grade.CannotSay && now-then >= worthwhile { // false for NaN
				e.note("%s: one more photo, from the other side, would narrow its dark deposit from ±%s to about ±%s points",
					v.name(), number.Text(now, 0), number.Text(then, 0))
			}
		}
	}
}
