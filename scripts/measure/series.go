package main

import (
	"fmt"
	"path/filepath"
	"slices"

	"valvegrade/internal/number"
	"valvegrade/internal/truth"
	"valvegrade/pkg/deposit"
	"valvegrade/pkg/engine"
	"valvegrade/pkg/inspection"
	"valvegrade/pkg/measure"
	"valvegrade/pkg/score"
)

// combinations are the valves of a set with several photos in one state, their photos combined.
type combinations struct {
	run
	all []combination
}

// combination is what all photos of a valve say together.
type combination struct {
	name   string
	photos []truth.Entry // those that were graded
	engine.Valve
}

// combining scores the photos of every group in which nothing was done to the valve, as far as that is so, and combines
// them as those of an inspection. It runs the packages themselves; of several valves in a photo the largest counts.
func combining(p program, dir string) (findings, error) {
	known, err := truth.Read(dir)
	if err != nil {
		return nil, err
	}
	scorer, err := p.scorer(score.Options{})
	if err != nil {
		return nil, err
	}
	defer scorer.Close()
	var found combinations
	for _, group := range untouched(known) {
		c, version, err := combined(dir, group, scorer)
		if err != nil {
			return nil, err
		}
		found.program = version
		if c.Used > 1 {
			found.all = append(found.all, c)
		}
	}
	return found, nil
}

// untouched are the groups of photos that can be judged and show one valve in one state, those of one photo left out.
func untouched(known []truth.Entry) [][]truth.Entry {
	var names []string
	groups := map[string][]truth.Entry{}
	for _, t := range known {
		if t.Demand != truth.Judge || t.Group == "" || t.Valve > 1 || t.Worked {
			continue
		}
		names, groups[t.Group] = append(names, t.Group), append(groups[t.Group], t)
	}
	var several [][]truth.Entry
	for _, name := range unique(names) {
		if len(groups[name]) > 1 {
			several = append(several, groups[name])
		}
	}
	return several
}

func combined(dir string, group []truth.Entry, scorer *score.Scorer) (combination, string, error) {
	c := combination{name: group[0].Group}
	var shots []engine.Shot
	version := ""
	for _, t := range group {
		record := score.Largest(scorer.Score(filepath.Join(dir, t.Photo))).Record()
		version = record.Version
		if record.Status == score.Scored {
			c.photos = append(c.photos, t)
		}
		shots = append(shots, engine.ShotOf(inspection.Photo{File: t.Photo, Cylinder: 1, Valve: 1}, &record))
	}
	one := &inspection.Inspection{Engine: inspection.Layout{Cylinders: 1, Valves: 1}}
	e, err := engine.Combine(one, shots)
	if err != nil {
		return c, "", err
	}
	c.Valve = e.Cylinders[0].Valves[0]
	return c, version, nil
}

// index, dark and thick are the true figures, the mean of what the photos show; thick, that most of the dark deposit is
// heavy.
func (c combination) index() float64 {
	return mean(each(c.photos, func(t truth.Entry) float64 { return t.Both.Index }))
}

func (c combination) dark() float64 {
	return mean(each(c.photos, func(t truth.Entry) float64 { return crust(t.Both.Shares) }))
}

func (c combination) thick() bool {
	heavy := mean(each(c.photos, func(t truth.Entry) float64 { return 100 * t.Both.Heavy }))
	return heavy >= c.dark()/2
}

// told reports whether the photos together say how thick the dark deposit is, and right whether that is so.
func (c combination) told() bool  { return c.BuildUp == deposit.Thick || c.BuildUp == deposit.Thin }
func (c combination) right() bool { return (c.BuildUp == deposit.Thick) == c.thick() }

func (c combinations) figures() ([]figure, error) {
	dark := slices.DeleteFunc(slices.Clone(c.all), func(v combination) bool { return v.dark() < deposit.LittleDark })
	told := slices.DeleteFunc(slices.Clone(dark), func(v combination) bool { return !v.told() })
	figures := []figure{
		{"series", "valves with several photos in one state", float64(len(c.all))},
		{"series_photos", "their photos that were graded, mean", mean(each(c.all, func(v combination) float64 { return float64(v.Used) }))},
	}
	for _, one := range []struct {
		key, name string
		of        func(measure.Reading) measure.Figure
		truth     func(combination) float64
	}{
		{"index", "index", func(r measure.Reading) measure.Figure { return r.Index }, combination.index},
		{"dark", "dark deposit", func(r measure.Reading) measure.Figure { return r.Dark }, combination.dark},
	} {
		// single is the median width of the photos' own intervals.
		single := func(v combination) float64 {
			var widths []float64
			for _, s := range v.Shots {
				if f := one.of(s.Reading); f.Known() {
					widths = append(widths, width(f))
				}
			}
			return number.Median(widths)
		}
		together := func(v combination) float64 { return width(one.of(v.Reading)) }
		figures = append(figures,
			figure{one.key + "_error", one.name + ", combined, mean absolute error",
				mean(missing(c.all, func(v combination) float64 { return one.of(v.Reading).Value }, one.truth).sizes())},
			figure{one.key + "_combined_holds_percent", "combined intervals that hold, %",
				percent(c.all, func(v combination) bool { return holds(one.of(v.Reading), one.truth(v)) })},
			figure{one.key + "_combined_width", "their width, median", number.Median(each(c.all, together))},
			figure{one.key + "_single_width", "median width of the valve's photos, median", number.Median(each(c.all, single))},
			figure{one.key + "_narrower_percent", "valves whose combined one is narrower, %",
				percent(c.all, func(v combination) bool { return together(v) < single(v) })},
		)
	}
	return append(figures,
		figure{"build_up_told_percent", "dark valves whose build-up is told, %", percent(dark, combination.told)},
		figure{"build_up_right_percent", "of these rightly, %", percent(told, combination.right)},
	), nil
}

// missing are the differences of a figure from its truth.
func missing(all []combination, got, want func(combination) float64) misses {
	return each(all, func(v combination) float64 { return got(v) - want(v) })
}

// remarks tell of valves whose interval does not hold.
func (c combinations) remarks(most int) []string {
	var lines []string
	for _, v := range c.all {
		if holds(v.Index, v.index()) && holds(v.Dark, v.dark()) {
			continue
		}
		lines = append(lines, fmt.Sprintf("does not hold: %s, %d photos: index %.0f (%.0f to %.0f), true %.0f; dark deposit %.0f (%.0f to %.0f), true %.0f",
			v.name, v.Used, v.Index.Value, v.Index.Low, v.Index.High, v.index(), v.Dark.Value, v.Dark.Low, v.Dark.High, v.dark()))
	}
	return lines[:min(most, len(lines))]
}

// combinationDetail is a valve in the file.
type combinationDetail struct {
	Valve  string          `json:"valve"`
	Photos int             `json:"photos"`
	Index  measure.Written `json:"index"`
	True   measure.Number  `json:"index_truth"`
	Dark   measure.Written `json:"dark"`
	Crust  measure.Number  `json:"dark_truth"`
	Build  string          `json:"build_up"`
	Thick  bool            `json:"thick_truth"`
}

func (c combinations) details() any {
	details := make([]combinationDetail, len(c.all))
	for i, v := range c.all {
		details[i] = combinationDetail{
			v.name, v.Used, v.Index.Write(measure.PointDecimals), points(v.index()),
			v.Dark.Write(measure.PointDecimals), points(v.dark()), string(v.BuildUp), v.thick(),
		}
	}
	return details
}
