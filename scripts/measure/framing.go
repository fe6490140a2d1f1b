package main

import (
	"cmp"
	"fmt"
	"os"
	"slices"

	"gonum.org/v1/gonum/stat"

	"valvegrade/internal/number"
	"valvegrade/internal/truth"
	"valvegrade/pkg/agree"
)

// framings are the crops of all photos of a set, by the valve that they were cut around.
type framings struct {
	run
	around []framed
}

// framed are the indices of the crops around one valve that were graded, and how many there are.
type framed struct {
	Photo string `json:"photo"`
	Valve int    `json:"valve"`
	Crops int    `json:"crops"`
	// Narrowest is the smallest crop's share of the photo: how much the framing could be changed at all.
	Narrowest float64   `json:"narrowest"`
	Index     []float64 `json:"index"`
}

// framing crops every photo that can be judged around each valve with truth, and has the crops scored.
func framing(p program, dir string) (findings, error) {
	known, err := truth.Read(dir)
	if err != nil {
		return nil, err
	}
	var found framings
	for _, t := range known {
		if t.Demand != truth.Judge {
			continue
		}
		one, run, err := frame(p, dir, t)
		if err != nil {
			return nil, err
		}
		found.run = run
		found.around = append(found.around, one)
	}
	return found, nil
}

// frame scores the crops around one valve.
func frame(p program, dir string, t truth.Entry) (framed, run, error) {
	cut, err := os.MkdirTemp("", "crops-*")
	if err != nil {
		return framed{}, run{}, err
	}
	defer os.RemoveAll(cut)
	crops, narrowest, err := cutAround(t, dir, cut)
	if err != nil {
		return framed{}, run{}, err
	}
	tried, err := try(p.in(fmt.Sprintf("%s-%d", t.Path("", ""), t.Valve)), cut, crops)
	if err != nil {
		return framed{}, run{}, err
	}
	index := each(tried.graded(), func(v valve) float64 { got, _ := v.index(); return got })
	return framed{t.Photo, t.Valve, len(crops), narrowest, index}, tried.run, nil
}

func (f framings) figures() ([]figure, error) {
	var crops, graded int
	for _, one := range f.around {
		crops, graded = crops+one.Crops, graded+len(one.Index)
	}
	narrowest := each(f.around, func(one framed) float64 { return one.Narrowest })
	indices := make([][]float64, len(f.around))
	for i, one := range f.around {
		indices[i] = one.Index
	}
	return []figure{
		{"valves", "valves", float64(len(f.around))},
		{"crops", "crops", float64(crops)},
		{"narrowest_percent", "the narrowest of a valve, % of its photo, median", 100 * number.Median(narrowest)},
		{"crops_graded_percent", "crops in which the valve was graded, %", 100 * float64(graded) / float64(crops)},
		{
			"crops_sd_median",
			"SD of the index over the crops of a valve, median",
			number.Median(each(f.several(), framed.sd)),
		},
		{"crops_sd", "the same, pooled", agree.Repeat(indices).SD.Value},
	}, nil
}

// several are the valves that were graded in two crops at least.
func (f framings) several() []framed {
	return slices.DeleteFunc(slices.Clone(f.around), func(one framed) bool { return len(one.Index) < 2 })
}

func (f framed) sd() float64 { return stat.StdDev(f.Index, nil) }

func (f framings) remarks(most int) []string {
	worst := f.several()
	slices.SortStableFunc(worst, func(a, b framed) int { return cmp.Compare(b.sd(), a.sd()) })
	var lines []string
	for _, one := range worst[:min(most, len(worst))] {
		lines = append(lines, fmt.Sprintf("SD %5.1f           %-28s valve %d, %d of %d crops graded: %.1f",
			one.sd(), one.Photo, one.Valve, len(one.Index), one.Crops, one.Index))
	}
	return lines
}

func (f framings) details() any { return f.around }
