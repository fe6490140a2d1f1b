package compare

import (
	"math"

	"valvegrade/pkg/measure"
)

// common is the part of an error, as variance, that the net makes the same way on all valves of an engine; the rest is
// each valve's own and averages out. On 39 rendered engines of four valves (16 of them in the looks of the demo photos)
// the errors of valves of one engine, in units of their intervals, correlate by 0.07 (-0.03 to 0.18) and 0.01 (-0.07 to
// 0.10), index and dark deposit, and those of their differences by 0.02 (-0.09 to 0.15) and -0.05 (-0.15 to 0.05): about
// as much as can be there unseen.
const common = 0.1

// pooled is the square of the half width of the mean of several figures, of the squares of theirs.
func pooled(squares []float64) float64 {
	n := float64(len(squares))
	sum, straight := 0.0, 0.0
	for _, s := range squares {
		sum += s
		straight += math.Sqrt(s)
	}
	return (1-common)*sum/(n*n) + common*straight*straight/(n*n)
}

// mean returns the mean of the figures of several valves. The spread between two valves is real and no error of theirs.
func mean(figures []measure.Figure) measure.Figure {
	var value float64
	var below, above []float64
	for _, f := range figures {
		value += f.Value / float64(len(figures))
		below = append(below, (f.Value-f.Low)*(f.Value-f.Low))
		above = append(above, (f.High-f.Value)*(f.High-f.Value))
	}
	return measure.Figure{Value: value, Low: max(0, value-math.Sqrt(pooled(below))), High: min(100, value+math.Sqrt(pooled(above)))}
}

// meanOf is the doubt of the mean of several valves.
func meanOf(doubts []doubt) doubt {
	var less, more []spread
	for _, d := range doubts {
		less, more = append(less, d.less), append(more, d.more)
	}
	return doubt{meanSpread(less), meanSpread(more)}
}

// meanSpread pools after, before and their difference each; what after and before have in common follows.
func meanSpread(spreads []spread) spread {
	of := func(square func(spread) float64) float64 {
		squares := make([]float64, len(spreads))
		for i, s := range spreads {
			squares[i] = square(s)
		}
		return pooled(squares)
	}
	m := spread{after: of(func(s spread) float64 { return s.after }), before: of(func(s spread) float64 { return s.before })}
	m.common = (m.after + m.before - of(func(s spread) float64 { return math.Pow(s.around(1), 2) })) / 2
	return m
}
