package main

import (
	"fmt"
	"image"
	"math"
	"strconv"
	"strings"

	"gonum.org/v1/gonum/stat"

	"valvegrade/pkg/agree"
	"valvegrade/pkg/measure"
	"valvegrade/pkg/score"
	"valvegrade/scripts/outline"
)

// viewed is a valve that was graded in a whole photo, and what became of it in the views that it is whole in.
type viewed struct {
	photo         string
	place, of     int // in the photo, from the left
	pixels        int
	looked, found int // views in which it is whole, and in which it was found of them
	index, dark   []float64
	grades        [agree.Grades]int // views by grade
	missed        []string          // why each of the others was refused, or is in doubt
}

// valvesOf are the graded valves of a photo in the order of the codes in its mask.
func valvesOf(name string, records []score.Record, mask *image.Gray) []*viewed {
	var valves []*viewed
	for n, record := range bySize(records) {
		valves = append(valves, &viewed{
			photo: name, place: record.ValveInPhoto, of: record.ValvesInPhoto, pixels: pixels(outline.Valve(mask, n+1)),
		})
	}
	return valves
}

// note adds a view in which the valve is whole, with the result that fits it best.
func (v *viewed) note(best valve) {
	v.looked++
	if !(best.whole > againFrom) {
		v.missed = append(v.missed, strings.Join(best.reasons, ", "))
		return
	}
	v.found++
	v.index = append(v.index, best.record.Index.Value())
	v.dark = append(v.dark, best.record.DarkFigure().Value)
	v.grades[*best.record.Grade]++
}

func (v views) figures() ([]figure, error) {
	var looked, found int
	for _, one := range v.valves {
		looked, found = looked+one.looked, found+one.found
	}
	return []figure{
		{"photos", "photos", float64(v.photos)},
		{"valves", "valves graded in them", float64(len(v.valves))},
		{"views", "views", float64(v.made)},
		{"whole", "valves whole in a view", float64(looked)},
		{"found", "of these found", float64(found)},
		{"found_percent", "of these found, %", 100 * float64(found) / float64(looked)},
		{"index_sd", "SD of the index over the views of a valve, pooled", pooledSD(v.valves, func(one *viewed) []float64 { return one.index })},
		{"dark_sd", "that of dark deposit", pooledSD(v.valves, func(one *viewed) []float64 { return one.dark })},
		{"elsewhere", "graded where the whole photo has no valve", float64(v.elsewhere)},
	}, nil
}

// pooledSD is the root of the mean of the valves' variances; valves found once or never have none. Each valve counts the
// same, in however many views it was found.
func pooledSD(valves []*viewed, of func(*viewed) []float64) float64 {
	return math.Sqrt(mean(each(valves, func(one *viewed) float64 { return variance(of(one)) })))
}

// variance is NaN for less than two values.
func variance(values []float64) float64 {
	if len(values) < 2 {
		return math.NaN()
	}
	return stat.Variance(values, nil)
}

// remarks tell of each valve, and why views were not graded.
func (v views) remarks(most int) []string {
	var lines, missed []string
	for _, one := range v.valves {
		missed = append(missed, one.missed...)
		lines = append(lines, fmt.Sprintf("%-28s valve %d/%d: found in %d of %d, index %s SD %s, dark %s SD %s, grades %s",
			one.photo, one.place, one.of, one.found, one.looked,
			tenth(mean(one.index)), tenth(math.Sqrt(variance(one.index))),
			tenth(mean(one.dark)), tenth(math.Sqrt(variance(one.dark))), one.met()))
	}
	lines = append(lines, counted("not found", missed)...)
	for _, name := range v.without[:min(most, len(v.without))] {
		lines = append(lines, "no valve graded    "+name)
	}
	return lines
}

func tenth(x float64) string {
	if math.IsNaN(x) {
		return "-"
	}
	return strconv.FormatFloat(x, 'f', 1, 64)
}

// met names the grades with the number of views that gave them.
func (v *viewed) met() string {
	var met []string
	for grade, count := range v.grades {
		if count > 0 {
			met = append(met, fmt.Sprintf("%d (%d)", grade, count))
		}
	}
	return strings.Join(met, ", ")
}

// viewedDetail is a valve in the file.
type viewedDetail struct {
	Photo   string         `json:"photo"`
	Valve   int            `json:"valve_in_photo"`
	Whole   int            `json:"whole"`
	Found   int            `json:"found"`
	Index   measure.Number `json:"index"`
	IndexSD measure.Number `json:"index_sd"`
	Dark    measure.Number `json:"dark"`
	DarkSD  measure.Number `json:"dark_sd"`
	Grades  []int          `json:"grades"` // views that gave 0 to 4
	Missed  []string       `json:"missed"`
}

func (v views) details() any {
	details := make([]viewedDetail, len(v.valves))
	for n, one := range v.valves {
		details[n] = viewedDetail{
			one.photo, one.place, one.looked, one.found, points(mean(one.index)), points(math.Sqrt(variance(one.index))),
			points(mean(one.dark)), points(math.Sqrt(variance(one.dark))), one.grades[:], one.missed,
		}
	}
	return details
}
