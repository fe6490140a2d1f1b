package compare

import (
	"cmp"
	"math"
	"slices"

	"valvegrade/pkg/engine"
)

// viewsOf returns the views of one valve.
func viewsOf(g *engine.Graded, cylinder, valve int) []*View {
	var views []*View
	for i, p := range g.Engine.Inspection.Photos {
		if p.Cylinder == cylinder && p.Valve == valve && p.LeftOut == nil {
			views = append(views, NewView(&g.Photos[i]))
		}
	}
	return views
}

// lacking says which inspection has no photo of a valve.
func lacking(before, after []*View) string {
	switch {
	case len(after) > 0:
		return "the first inspection has no photo of it"
	case len(before) > 0:
		return "the second inspection has no photo of it"
	}
	return "neither inspection has a photo of it"
}

// mostPairs is how many pairs of photos of a valve are laid on each other, which takes a tenth of a second each: all of
// five photos before and after.
const mostPairs = 25

// closest compares every photo of before with every one of after and returns the best comparison, of equals the first.
// Of more than mostPairs only those are laid on each other that have most in common as the stem stands in both.
func closest(before, after []*View, o Options) *Comparison {
	best := &Comparison{Common: math.NaN(), Changes: unknownChanges}
	best.Reasons = append(best.Reasons, table.With(NoPhoto, lacking(before, after)))
	laid := 0
	for _, p := range pairsOf(before, after) {
		c := Views(p.before, p.after, o)
		if best.Before == nil || c.better(best) {
			best = c
		}
		if c.Registration == nil {
			continue
		}
		if laid++; laid == mostPairs {
			break
		}
	}
	return best
}

type pair struct {
	before, after *View
	// common is the share of the valve that both show where neither is turned, infinite where there are no maps to be laid
	// on each other, which takes no time.
	common float64
}

// pairsOf returns all pairs in their order, more than mostPairs of them by what they have in common.
func pairsOf(before, after []*View) []pair {
	var pairs []pair
	for _, first := range before {
		for _, second := range after {
			pairs = append(pairs, pair{first, second, math.Inf(1)})
		}
	}
	if len(pairs) <= mostPairs {
		return pairs
	}
	for n, p := range pairs {
		if p.before.mapped() && p.after.mapped() {
			_, weight := overlay(p.before.Map, p.after.Map, alignment{})
			pairs[n].common = sum(weight)
		}
	}
	slices.SortStableFunc(pairs, func(a, b pair) int { return cmp.Compare(b.common, a.common) })
	return pairs
}

// better reports whether c tells more than another comparison of the same valve: one that was refused tells least, one
// that was forced less than one of photos that register, and one without maps less than one with; then what both photos
// show decides.
func (c *Comparison) better(than *Comparison) bool {
	mapped, itsMapped := !math.IsNaN(c.Common), !math.IsNaN(than.Common)
	switch {
	case c.Compared != than.Compared:
		return c.Compared
	case c.Forced != than.Forced:
		return than.Forced
	case mapped != itsMapped:
		return mapped
	}
	return c.Compared && c.Common > than.Common
}
