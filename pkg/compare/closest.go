package compare

import (
	"cmp"
	"math"
	"slices"

	"valvegrade/pkg/deposit"
	"valvegrade/pkg/engine"
	"valvegrade/pkg/unroll"
)

// photographed are the views of one valve in an inspection that count, and how many of its photos somebody left out.
type photographed struct {
	views   []*View
	leftOut int
}

func viewsOf(g *engine.Graded, cylinder, valve int) photographed {
	var of photographed
	for i, p := range g.Engine.Inspection.Photos {
		switch {
		case p.Cylinder != cylinder || p.Valve != valve:
		case p.LeftOut != nil:
			of.leftOut++
		default:
			of.views = append(of.views, NewView(&g.Photos[i]))
		}
	}
	return of
}

// lacking says which inspection has no photo of a valve, or none that counts.
func lacking(before, after photographed) string {
	switch {
	case len(after.views) > 0 && before.leftOut > 0:
		return "all photos of it in the first inspection were left out"
	case len(after.views) > 0:
		return "the first inspection has no photo of it"
	case len(before.views) > 0 && after.leftOut > 0:
		return "all photos of it in the second inspection were left out"
	case len(before.views) > 0:
		return "the second inspection has no photo of it"
	case before.leftOut > 0 && after.leftOut > 0:
		return "all photos of it in both inspections were left out"
	case before.leftOut > 0 || after.leftOut > 0:
		return "neither inspection has a photo of it that counts"
	}
	return "neither inspection has a photo of it"
}

// mostPairs is how many pairs of photos of a valve are laid on each other, which takes a tenth of a second each: all of
// five photos before and after.
const mostPairs = 25

// closest compares every photo of before with every one of after and returns the best comparison, of equals the first.
// Of more than mostPairs only those are laid on each other that have most in common as the stem stands in both.
func closest(before, after photographed, o Options) *Comparison {
	best := &Comparison{Common: math.NaN(), Changes: unknownChanges}
	best.Reasons = append(best.Reasons, table.With(NoPhoto, lacking(before, after)))
	laid := 0
	for _, p := range pairsOf(before.views, after.views) {
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
			pairs[n].common = inCommon(p.before.Map, p.after.Map)
		}
	}
	slices.SortStableFunc(pairs, func(a, b pair) int { return cmp.Compare(b.common, a.common) })
	return pairs
}

// inCommon is the share of the valve that both of two maps show where neither is turned: what overlay weighs, without
// laying out what is there, so that ten thousand pairs take four seconds and not sixteen (two shared cores).
func inCommon(first, second *unroll.Map) float64 {
	total := 0.0
	for cell, class := range first.Class {
		if class <= deposit.Heavy && second.Class[cell] <= deposit.Heavy {
			total += (first.Weight[cell] + second.Weight[cell]) / 2
		}
	}
	return total
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
