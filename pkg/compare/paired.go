package compare

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"valvegrade/pkg/deposit"
	"valvegrade/pkg/measure"
)

// Tests is how many figures a verdict rests on, index and dark deposit: either can say that the valve has changed, so
// that both get half of the 5 % (Bonferroni; Dunn, Journal of the American Statistical Association 56 (1961) 52).
const Tests = 2

// together is the half width, in standard deviations, of intervals that hold with 95 % for all tests at once: 2.2414.
var together = distuv.UnitNormal.Quantile(1 - 0.025/Tests)

// paired is how far a figure of two photos is off in each draw of their measurements (deposit.Draws), in points. What
// both photos misread alike moves both in the same draw, and drops out of their difference.
type paired struct {
	before, after []float64
	// weight is how much each draw counts, at least 0: what the net thinks of either photo is heard for both.
	weight []float64
	// alone is the variance of the difference that no draw tells, in points².
	alone float64
}

// reading takes one figure out of draws or a reading.
type reading struct {
	drawn func(deposit.Draws) []float64
	whole func(measure.Reading) measure.Figure
	part  func(measure.Shares) float64
}

var (
	indexReading = reading{
		func(d deposit.Draws) []float64 { return d.Index },
		func(r measure.Reading) measure.Figure { return r.Index }, measure.Shares.Index,
	}
	darkReading = reading{
		func(d deposit.Draws) []float64 { return d.Dark },
		func(r measure.Reading) measure.Figure { return r.Dark }, measure.Shares.Dark,
	}
	coverageReading = reading{
		func(d deposit.Draws) []float64 { return d.Coverage },
		func(r measure.Reading) measure.Figure { return r.Coverage }, measure.Shares.Coverage,
	}
)

// pair holds the draws of two views; a part of the valve is as far off as the whole. Views by different versions share
// nothing: no draw of one is held against the same draw of the other.
func (r reading) pair(before, after *View, parts [2]measure.Figure) paired {
	views := [2]*View{before, after}
	n := min(len(before.Map.Draws.Weight), len(after.Map.Draws.Weight))
	p := paired{weight: make([]float64, n)}
	off := [2][]float64{make([]float64, n), make([]float64, n)}
	for i := range n {
		p.weight[i] = 1
		for side, v := range views {
			at := i
			if side == 1 && before.Version != after.Version {
				at = (i + n/2) % n
			}
			part := parts[side].Value
			drawn := part + r.drawn(v.Map.Draws)[at] - r.whole(v.Reading).Value
			off[side][i] = min(100, max(0, drawn)) - part
			p.weight[i] *= v.Map.Draws.Weight[at]
		}
	}
	p.before, p.after = off[0], off[1]
	return p
}

// meanOf is how far the mean of several pairs is off: what they have in common stays, what each has alone averages out.
// What the net thinks of all of them counts as one voice.
func meanOf(pairs []paired) paired {
	n, least := float64(len(pairs)), len(pairs[0].weight)
	for _, p := range pairs {
		least = min(least, len(p.weight))
	}
	m := paired{make([]float64, least), make([]float64, least), make([]float64, least), 0}
	for i := range least {
		voice := 0.0
		for _, p := range pairs {
			m.before[i] += p.before[i] / n
			m.after[i] += p.after[i] / n
			voice += math.Log(p.weight[i]) / n
		}
		m.weight[i] = math.Exp(voice)
	}
	for _, p := range pairs {
		m.alone += p.alone / (n * n)
	}
	return m
}

// spread is how far the difference may be off towards more (+1) or less (-1): moments of the draws on that side,
// around the figures as they were measured. Draws that all lie on one side count as they are; where fewer than half
// do, that side is the nearer for it.
func (p paired) spread(side float64) spread {
	var s spread
	on, all := 0.0, 0.0
	for i, w := range p.weight {
		all += w
		if side*(p.after[i]-p.before[i]) > 0 {
			on += w
			s.after += w * p.after[i] * p.after[i]
			s.before += w * p.before[i] * p.before[i]
			s.common += w * p.after[i] * p.before[i]
		}
	}
	factor := together * together
	if count := max(on, all/2); count > 0 {
		s.after, s.before, s.common = factor*s.after/count, factor*s.before/count, factor*s.common/count
	}
	s.after += factor * p.alone / 2
	s.before += factor * p.alone / 2
	return s
}

// spread is how far a figure after, less a multiple of that before, may be off towards one side: squares of half widths
// of intervals, in points², and what the two have in common.
type spread struct{ after, before, common float64 }

// around is the half width of the interval around after - ratio before.
func (s spread) around(ratio float64) float64 {
	return math.Sqrt(max(0, s.after+ratio*ratio*s.before-2*ratio*s.common))
}

// lowest and highest are the limits of after/before (MOVER-R: Donner & Zou, Statistical Methods in Medical Research 21
// (2012) 347), Fieller's where the spreads to both sides are alike: the R at which after - R before, give or take its
// half width, just reaches 0. They are roots of q R² - 2 p R + c = 0. lowest is 0 where nothing may be left.
func (s spread) lowest(after, before float64) float64 {
	p, q, c := s.equation(after, before)
	if c <= 0 {
		return 0
	}
	return c / (p + math.Sqrt(max(0, p*p-q*c)))
}

// highest is for changes beyond doubt towards less. There after - before, half width and all, stays below 0, so that
// the limit exists and is below 1 even where the interval of before reaches 0.
func (s spread) highest(after, before float64) float64 {
	p, q, c := s.equation(after, before)
	root := math.Sqrt(max(0, p*p-q*c))
	if p < 0 { // the same root, written without cancellation, and right where q is 0
		return c / (p - root)
	}
	return (p + root) / q
}

func (s spread) equation(after, before float64) (p, q, c float64) {
	return after*before - s.common, before*before - s.before, after*after - s.after
}
