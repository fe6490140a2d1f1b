package agree

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/stat"

	"valvegrade/pkg/measure"
)

// Concordance says how close pairs of values lie to the line of equality.
type Concordance struct {
	Pairs int
	// Pearson is the correlation, -1 to 1: how close to any line. NaN when one side does not vary.
	Pearson float64
	// Figure is the concordance, -1 to 1: Pearson times a factor for bias and for unlike spread. NaN when no value
	// varies and the two means are equal; the ends of its interval also for fewer than 4 pairs or a perfect fit.
	measure.Figure
}

// Lin returns the concordance correlation of Lin (1989), with moments divided by n as in the paper, and its interval by
// the inverse hyperbolic tangent with the variance as corrected in Lin (2000).
func Lin(first, second []float64) (Concordance, error) {
	if len(first) != len(second) || len(first) == 0 {
		return Concordance{}, fmt.Errorf("agree: %d values against %d", len(first), len(second))
	}
	n := float64(len(first))
	mx, my := stat.Mean(first, nil), stat.Mean(second, nil)
	var vx, vy, cov float64
	for i := range first {
		dx, dy := first[i]-mx, second[i]-my
		vx, vy, cov = vx+dx*dx/n, vy+dy*dy/n, cov+dx*dy/n
	}
	c := Concordance{Pairs: len(first), Pearson: cov / math.Sqrt(vx*vy)}
	c.Value = 2 * cov / (vx + vy + square(mx-my))
	c.Low, c.High = c.interval(square(mx-my) / math.Sqrt(vx*vy))
	return c, nil
}

// interval takes the squared location shift: squared bias over the product of the two standard deviations.
func (c Concordance) interval(shift float64) (low, high float64) {
	r, p := c.Pearson, c.Value
	const perfect = 1e-12
	if c.Pairs < 4 || 1-p*p < perfect || r == 0 {
		return math.NaN(), math.NaN()
	}
	rest := 1 - p*p
	variance := (1-r*r)*p*p/(rest*r*r) + 2*p*p*p*(1-p)*shift/(r*rest*rest) - square(p*p*shift)/(2*square(r*rest))
	half := measure.Normal975 * math.Sqrt(math.Max(0, variance)/float64(c.Pairs-2))
	z := math.Atanh(p)
	return math.Tanh(z - half), math.Tanh(z + half)
}
