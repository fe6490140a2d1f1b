package engine

import (
	"fmt"
	"math"
	"slices"

	"valvegrade/pkg/deposit"
	"valvegrade/pkg/grade"
	"valvegrade/pkg/measure"
)

// Valve is what all photos of one valve say together.
type Valve struct {
	Cylinder, Number int
	// Shots are all photos of the valve, refused ones included, in the order of the inspection.
	Shots []Shot
	// Used counts the shots that were measured, one picture under several names once.
	Used int
	measure.Reading
	// Grades are the probabilities of the grades.
	Grades grade.Probabilities
	// Heavy says how thick its dark deposit is, BuildUp the same in a word; "" where no photo was asked.
	Heavy   deposit.MostlyHeavy
	BuildUp deposit.BuildUp
	// Spread is the standard deviation of the index between photos, NaN for fewer than two.
	Spread float64
	// Apart is true when the intervals of two photos do not meet: they hardly show one valve in one state.
	Apart bool
}

// combine brings the shots of one valve together: the Mean of the measured ones, weighted by area times confidence.
func combine(cylinder, number int, shots []Shot) Valve {
	v := Valve{
		Cylinder: cylinder, Number: number, Shots: shots,
		Reading: measure.NoReading(), Spread: math.NaN(),
		Heavy: deposit.MostlyHeavy{Share: measure.Unmeasured(), Chance: math.NaN()},
	}
	measured := v.measured()
	v.Used = len(measured)
	if v.Used == 0 {
		return v
	}
	weights := weightsOf(measured)
	index := MeanOf(each(measured, func(s Shot) measure.Figure { return s.Index }), weights)
	v.Index, v.Spread = index.Figure, index.Spread
	v.Dark = MeanOf(each(measured, func(s Shot) measure.Figure { return s.Dark }), weights).Figure
	v.Coverage = MeanOf(each(measured, func(s Shot) measure.Figure { return s.Coverage }), weights).Figure
	v.Reading = v.Consistent()
	odds := each(measured, func(s Shot) grade.Probabilities { return s.Grades })
	v.Grades = grade.Pool(odds, weights, index.Narrower)
	v.Heavy, v.BuildUp = heavyOf(measured, v.Dark)
	for i, s := range measured {
		for _, other := range measured[i+1:] {
			v.Apart = v.Apart || s.Index.Low > other.Index.High || other.Index.Low > s.Index.High
		}
	}
	return v
}

// measured are the shots that count, one picture under several names once.
func (v Valve) measured() []Shot {
	var measured []Shot
	seen := map[string]bool{}
	for _, s := range v.Shots {
		if s.LeftOut != nil || !s.Index.Known() || seen[s.SHA256] {
			continue
		}
		seen[s.SHA256] = s.SHA256 != ""
		measured = append(measured, s)
	}
	return measured
}

// refusals are those of the photos that count, each once.
func (v Valve) refusals() []string {
	var why []string
	for _, s := range v.Shots {
		for _, refusal := range s.Refusals {
			if s.LeftOut == nil && !slices.Contains(why, refusal) {
				why = append(why, refusal)
			}
		}
	}
	return why
}

// weightsOf returns weights that sum to 1, equal ones when no shot has any weight.
func weightsOf(shots []Shot) []float64 {
	weights := make([]float64, len(shots))
	sum := 0.0
	for i, s := range shots {
		if w := s.Area * s.Confidence; w > 0 { // false for NaN too
			weights[i] = w
			sum += w
		}
	}
	for i := range weights {
		if sum > 0 {
			weights[i] /= sum
		} else {
			weights[i] = 1 / float64(len(shots))
		}
	}
	return weights
}

// name is how a valve is called in sentences.
func (v Valve) name() string { return fmt.Sprintf("cylinder %d valve %d", v.Cylinder, v.Number) }
