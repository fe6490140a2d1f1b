package compare

import (
	"math"

	"valvegrade/pkg/measure"
)

// doubt is how far one figure of two photos may be off, where its difference may be less and where it may be more.
type doubt struct{ less, more spread }

// spread is how far a figure after, less a multiple of that before, may be off towards one side: squares of half widths
// of 95 % intervals, in points², and what the two have in common.
type spread struct{ after, before, common float64 }

// doubtOf follows from the intervals of the two figures: the difference may be as much less as after may be and before
// may be more, and the other way round, of which what the two share drops out (MOVER: Zou, Psychological Methods 12
// (2007) 399). shared is the correlation of their errors, 0 to 1, alone a variance that neither interval tells, in
// points². Where nothing is shared the difference is never surer than either figure.
func doubtOf(before, after measure.Figure, shared, alone float64) doubt {
	of := func(after, before float64) spread {
		alone := measure.Normal975 * measure.Normal975 * alone / 2
		return spread{after*after + alone, before*before + alone, shared * after * before}
	}
	return doubt{
		less: of(after.Value-after.Low, before.High-before.Value),
		more: of(after.High-after.Value, before.Value-before.Low),
	}
}

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
