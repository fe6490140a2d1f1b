package main

import (
	"valvegrade/internal/number"
	"valvegrade/pkg/compare"
)

// cylindersOf is the number of valves of the smaller engines that the valves of a set are made into.
const cylindersOf = 4

// engines are the valves of a set taken as those of engines, each with one pair of photos, whose mean difference is
// pooled: all of them as one, and every four that follow one another, the last and the first ones, too.
type engines struct {
	all   []pair
	fours [][]pair
}

// enginesOf takes of each valve its first photo that was compared, with the last one that it was compared with: a pair
// for each valve, as two inspections give.
func enginesOf(pairs []pair) engines {
	var order []string
	furthest := map[string]pair{}
	for _, p := range pairs {
		if !p.Compared || p.Verdict == compare.NoClaim {
			continue
		}
		group := p.before.Group
		if _, known := furthest[group]; !known {
			order = append(order, group)
		}
		if first, known := furthest[group]; !known || first.before.Photo == p.before.Photo {
			furthest[group] = p
		}
	}
	var e engines
	for _, group := range order {
		e.all = append(e.all, furthest[group])
	}
	for first := range e.all {
		if len(e.all) < cylindersOf {
			break
		}
		var four []pair
		for n := range cylindersOf {
			four = append(four, e.all[(first+n)%len(e.all)])
		}
		e.fours = append(e.fours, four)
	}
	return e
}

// pooled is the mean difference of several valves, and what it is in truth.
type pooled struct {
	compare.Change
	true float64
}

func (p pooled) holds() bool    { return holds(p.Difference, p.true) }
func (p pooled) width() float64 { return width(p.Difference) }

func (e engines) figures() []figure {
	figures := []figure{{"engine_valves", "valves, as those of one engine", float64(len(e.all))}}
	for _, one := range []struct {
		key, name string
		change    func(compare.Changes) compare.Change
		truth     func(pair) float64
	}{
		{"index", "index", func(c compare.Changes) compare.Change { return c.Index }, pair.index},
		{"dark", "dark deposit", func(c compare.Changes) compare.Change { return c.Dark }, pair.dark},
	} {
		of := func(valves []pair) pooled {
			comparisons := make([]*compare.Comparison, len(valves))
			for n, p := range valves {
				comparisons[n] = p.Comparison
			}
			return pooled{one.change(compare.Pooled(comparisons)), mean(each(valves, func(p pair) float64 { return p.true(one.truth) }))}
		}
		var wholes, fours []pooled
		if len(e.all) > 0 {
			wholes = append(wholes, of(e.all))
		}
		for _, valves := range e.fours {
			fours = append(fours, of(valves))
		}
		figures = append(figures,
			figure{one.key + "_engine_true", one.name + ", true mean difference of all", mean(each(wholes, func(p pooled) float64 { return p.true }))},
			figure{one.key + "_engine_off", "that of the pooled photos less it", mean(each(wholes, func(p pooled) float64 { return p.Difference.Value - p.true }))},
			figure{one.key + "_engine_width", "width of its interval", mean(each(wholes, pooled.width))},
			figure{one.key + "_engine_holds_percent", "it holds, %", percent(wholes, pooled.holds)},
			figure{one.key + "_fours_hold_percent", "of every four valves it holds, %", percent(fours, pooled.holds)},
			figure{one.key + "_fours_width", "their width, median", number.Median(each(fours, pooled.width))},
		)
	}
	return figures
}
