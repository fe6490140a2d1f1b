package agree

import (
	"fmt"
	"math"
)

// addTogether describes three or more raters at once, on the photos that all of them rated.
func (a *Agreement) addTogether(photos []string, own map[string]map[string]Rating) {
	if len(a.Raters) < 3 {
		return
	}
	var counts [][]int
	var indices [][]float64
	for _, photo := range photos {
		row, values := make([]int, Grades), make([]float64, 0, len(a.Raters))
		complete := true
		for _, rater := range a.Raters {
			r, rated := own[rater][photo]
			if !rated {
				complete = false
				break
			}
			row[r.Grade]++
			if !math.IsNaN(r.Index) {
				values = append(values, r.Index)
			}
		}
		if !complete {
			continue
		}
		counts = append(counts, row)
		if len(values) == len(a.Raters) {
			indices = append(indices, values)
		}
	}
	if len(counts) == 0 {
		a.Notes = append(a.Notes, fmt.Sprintf("no photo was rated by all %d raters: no joint kappa", len(a.Raters)))
		return
	}
	fleiss := must(FleissKappa(counts))
	a.Fleiss = &fleiss
	if len(indices) > 1 {
		icc := must(IntraclassCorrelation(indices))
		a.ICC = &icc
	}
}

// addRepeats gathers what each rater said about one valve, over all its photos.
func (a *Agreement) addRepeats(ratings []Rating) {
	valves := distinct(ratings, func(r Rating) string { return r.Valve })
	place := map[string]int{}
	for i, v := range valves {
		place[v] = i
	}
	levels := make([][][]float64, len(valves)) // valve, rater, repeat: of the index
	for i := range levels {
		levels[i] = make([][]float64, len(a.Raters))
	}
	for j, rater := range a.Raters {
		grades, indices := make([][]float64, len(valves)), make([][]float64, len(valves))
		for _, r := range ratings {
			if r.Rater != rater {
				continue
			}
			i := place[r.Valve]
			grades[i] = append(grades[i], float64(r.Grade))
			if !math.IsNaN(r.Index) {
				indices[i] = append(indices[i], r.Index)
				levels[i][j] = append(levels[i][j], r.Index)
			}
		}
		if r := Repeat(indices); r.Items > 0 {
			a.Repeats = append(a.Repeats, RaterRepeat{rater, "index", r})
		} else if r := Repeat(grades); r.Items > 0 {
			a.Repeats = append(a.Repeats, RaterRepeat{rater, "grade", r})
		}
	}
	if p := PrecisionOf(levels); p.Items > 0 {
		a.Precision = &p
	}
	if len(a.Repeats) == 0 {
		a.Notes = append(a.Notes, "no valve was rated twice by one rater: repeatability is not known")
	}
}
