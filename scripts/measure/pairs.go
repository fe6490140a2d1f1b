package main

import (
	"cmp"
	"fmt"
	"math"
	"path/filepath"
	"slices"

	"valvegrade/internal/number"
	"valvegrade/internal/truth"
	"valvegrade/pkg/compare"
	"valvegrade/pkg/measure"
	"valvegrade/pkg/score"
)

// pairs are all pairs of photos of one valve in a set, compared.
type pairs struct {
	run
	all []pair
}

// pair is two photos of one valve, the earlier one first. Nothing was done to the valve in between when it is still.
type pair struct {
	before, after truth.Entry
	still         bool
	*compare.Comparison
}

// enough is the change, in points of index or dark deposit, that is to be seen.
const enough = 15

// pairing compares every photo of a valve with every later one. It runs the packages themselves,
// because the program compares two photos a run. Where a photo shows several valves, the largest counts.
func pairing(p program, dir string) (findings, error) {
	known, err := truth.Read(dir)
	if err != nil {
		return nil, err
	}
	scorer, err := p.scorer(score.Options{Map: true})
	if err != nil {
		return nil, err
	}
	defer scorer.Close()
	found := pairs{}
	earlier := map[string][]seen{}
	for _, t := range known {
		if t.Demand != truth.Judge || t.Group == "" || t.Valve > 1 {
			continue
		}
		record := score.Largest(scorer.Score(filepath.Join(dir, t.Photo))).Record()
		found.program = record.Version
		this := seen{t, compare.NewView(&record)}
		for _, first := range earlier[t.Group] {
			second := this
			if first.Role == "after" && second.Role == "before" {
				first, second = second, first
			}
			found.all = append(found.all, pair{
				first.Entry, second.Entry, !first.Worked && !second.Worked,
				compare.Views(first.view, second.view, compare.Options{}),
			})
		}
		earlier[t.Group] = append(earlier[t.Group], this)
	}
	return found, nil
}

// seen is a photo with truth and what comparing needs of it.
type seen struct {
	truth.Entry
	view *compare.View
}

// index and dark are the true changes of what the photos show, in points.
func (p pair) index() float64 { return p.after.Both.Index - p.before.Both.Index }
func (p pair) dark() float64  { return crust(p.after.Both.Shares) - crust(p.before.Both.Shares) }

func (p pair) claimed() bool { return p.Verdict == compare.Changed }

func (p pairs) figures() ([]figure, error) {
	only := func(is func(pair) bool) []pair {
		return slices.DeleteFunc(slices.Clone(p.all), func(one pair) bool { return !is(one) })
	}
	still := only(func(one pair) bool { return one.still })
	figures := []figure{
		{"pairs", "pairs of photos of one valve", float64(len(p.all))},
		{"compared_percent", "of these compared, %", percent(p.all, func(one pair) bool { return one.Compared })},
		{"still", "pairs of unchanged valves", float64(len(still))},
		{"false_percent", "of these called changed, %", percent(still, pair.claimed)},
	}
	worked := only(func(one pair) bool {
		return !one.still && max(math.Abs(one.index()), math.Abs(one.dark())) >= enough
	})
	figures = append(figures,
		figure{"changed", fmt.Sprintf("pairs that changed by %d points, index or dark", enough), float64(len(worked))},
		figure{"seen_percent", "of these called changed, %", percent(worked, pair.claimed)})
	compared := only(func(p pair) bool { return p.Compared && p.Verdict != compare.NoClaim })
	figures = append(figures, figure{"both_hold_percent", "intervals of both differences hold at once, %",
		percent(compared, func(p pair) bool { return indexOf.holds(p) && darkOf.holds(p) })})
	for _, one := range []difference{indexOf, darkOf} {
		changed := only(func(p pair) bool { return !p.still && math.Abs(one.truth(p)) >= enough })
		is := func(p pair) bool { return one.change(p).Verdict() == compare.Changed }
		off := func(p pair) float64 { return math.Abs(one.change(p).Difference.Value - p.true(one.truth)) }
		worked := slices.DeleteFunc(slices.Clone(compared), func(p pair) bool { return p.still })
		same := slices.DeleteFunc(slices.Clone(compared), func(p pair) bool { return !p.still })
		figures = append(figures,
			figure{one.key + "_changed", one.name + ": pairs that changed", float64(len(changed))},
			figure{one.key + "_seen_percent", one.name + ", of these called changed, %", percent(changed, is)},
			figure{one.key + "_false_percent", one.name + ", unchanged ones called changed, %", percent(still, is)},
			figure{one.key + "_off", one.name + ", error of the difference, mean", mean(each(compared, off))},
			figure{one.key + "_sem", one.name + ", SEM of unchanged valves", sem(still, one.change)},
			figure{one.key + "_holds_percent", one.name + ", intervals of the difference that hold, %", percent(compared, one.holds)},
			figure{one.key + "_worked_hold_percent", "those of valves cleaned or grown, %", percent(worked, one.holds)},
			figure{one.key + "_still_hold_percent", "those of unchanged valves, %", percent(same, one.holds)},
			figure{one.key + "_width", one.name + ", width of the difference's interval, median",
				number.Median(each(compared, func(p pair) float64 { return width(one.change(p).Difference) }))},
			figure{one.key + "_detectable", one.name + ", smallest detectable change, median",
				number.Median(each(compared, func(p pair) float64 { return one.change(p).Detectable }))},
		)
	}
	return append(figures, enginesOf(p.all).figures()...), nil
}

// difference is how one figure of two photos differs, and in truth.
type difference struct {
	key, name string
	change    func(pair) compare.Change
	truth     func(pair) float64
}

var (
	indexOf = difference{"index", "index", func(p pair) compare.Change { return p.Index }, pair.index}
	darkOf  = difference{"dark", "dark deposit", func(p pair) compare.Change { return p.Dark }, pair.dark}
)

func (d difference) holds(p pair) bool { return holds(d.change(p).Difference, p.true(d.truth)) }

// true is the true change of the valve: none where nothing was done to it, whatever part of it each photo shows.
func (p pair) true(change func(pair) float64) float64 {
	if p.still {
		return 0
	}
	return change(p)
}

// sem is the standard error of measurement of a figure, by pairs of unchanged valves: sqrt(sum of d²/2n) (Bland &
// Altman, "Measurement error", British Medical Journal 312 (1996), 1654).
func sem(still []pair, change func(pair) compare.Change) float64 {
	return math.Sqrt(mean(each(still, func(p pair) float64 { return math.Pow(change(p).Difference.Value, 2) / 2 })))
}

// remarks tell of changes that were not seen, and of those that are none.
func (p pairs) remarks(most int) []string {
	var lines []string
	wrong := slices.DeleteFunc(slices.Clone(p.all), func(one pair) bool {
		missed := !one.still && !one.claimed() && max(math.Abs(one.index()), math.Abs(one.dark())) >= enough
		return !missed && !(one.still && one.claimed())
	})
	slices.SortStableFunc(wrong, func(a, b pair) int { return cmp.Compare(b.size(), a.size()) })
	for _, one := range wrong[:min(most, len(wrong))] {
		what := "not seen"
		if one.still {
			what = "no change"
		}
		lines = append(lines, fmt.Sprintf("%-9s %s, %s; true dark %.0f to %.0f, index %.0f to %.0f: %s", what,
			one.before.Photo, one.after.Photo, crust(one.before.Both.Shares), crust(one.after.Both.Shares),
			one.before.Both.Index, one.after.Both.Index, one.Outcome()))
	}
	return lines
}

func (p pair) size() float64 { return max(math.Abs(p.index()), math.Abs(p.dark())) }

// pairDetail is a pair in the file.
type pairDetail struct {
	Before  string         `json:"before"`
	After   string         `json:"after"`
	Still   bool           `json:"still"`
	Verdict string         `json:"verdict"`
	Index   measure.Number `json:"index_difference"`
	Dark    measure.Number `json:"dark_difference"`
	True    measure.Number `json:"index_truth"`
	Crust   measure.Number `json:"dark_truth"`
}

func (p pairs) details() any {
	details := make([]pairDetail, len(p.all))
	for i, one := range p.all {
		details[i] = pairDetail{
			one.before.Photo, one.after.Photo, one.still, string(one.Verdict),
			points(one.Index.Difference.Value), points(one.Dark.Difference.Value), points(one.index()), points(one.dark()),
		}
	}
	return details
}
