package main

import (
	"fmt"
	"math"
	"slices"

	"valvegrade/pkg/grade"
)

// fewest is how many probabilities a tenth must hold to be told of.
const fewest = 30

// believed returns the valves whose grades have probabilities.
func believed(valves []valve) (known []valve) {
	for _, v := range valves {
		if v.probabilities().Known() {
			known = append(known, v)
		}
	}
	return known
}

func (v valve) probabilities() grade.Probabilities { return v.record.Written.Odds() }

func (v valve) trueGrade() int { return grade.Place(v.Both.Index) }

// beliefs tell what the probabilities of the grades are worth, and the decisions that rest on them.
func beliefs(valves []valve) []figure {
	valves = believed(valves)
	decides := func(v valve) bool {
		decision, _ := v.probabilities().Decide()
		return decision != grade.CannotSay
	}
	decided := slices.DeleteFunc(slices.Clone(valves), func(v valve) bool { return !decides(v) })
	borderline := func(v valve) bool { return v.record.Borderline != nil && *v.record.Borderline }
	return []figure{
		{"grade_brier", "probabilities of the grades, Brier score", mean(each(valves, valve.brier))},
		{"borderline_percent", "borderline, %", percent(valves, borderline)},
		{"decided_percent", "decided with 90 % certainty, %", percent(valves, decides)},
		{"decided_right_percent", "decisions that are right, %", percent(decided, valve.rightlyDecided)},
	}
}

func (v valve) brier() float64 { return v.probabilities().Brier(v.trueGrade()) }

func (v valve) rightlyDecided() bool {
	switch decision, _ := v.probabilities().Decide(); decision {
	case grade.CleaningDue:
		return v.trueGrade() >= 3
	case grade.NothingToDo:
		return v.trueGrade() < 2
	default:
		return v.trueGrade() < 3
	}
}

// reliability holds what was believed against what was so, for all five probabilities of each valve, in tenths (Murphy &
// Winkler, "Reliability of subjective probability forecasts of precipitation and temperature", Applied Statistics 26
// (1977), 41).
func reliability(valves []valve) []string {
	var said, so, count [10]float64
	for _, v := range believed(valves) {
		for value, p := range v.probabilities() {
			tenth := min(9, int(math.Floor(10*p)))
			count[tenth]++
			said[tenth] += p
			if value == v.trueGrade() {
				so[tenth]++
			}
		}
	}
	var lines []string
	for k, n := range count {
		if n >= fewest {
			lines = append(lines, fmt.Sprintf("said, was so       %.2f  %.2f  %4.0f", said[k]/n, so[k]/n, n))
		}
	}
	return lines
}
