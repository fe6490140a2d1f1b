package agree

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/stat"

	"valvegrade/pkg/measure"
)

// UsualFactor is the number of standard deviations between bias and limit that Bland & Altman settled on; their paper
// of 1986 works its example with 2.
const UsualFactor = 1.96

// Limits are limits of agreement: about 95 % of differences first - second lie between Lower and Upper, in the unit of
// the values. SD and what follows from it are NaN for fewer than two pairs; the ends of the intervals also where all
// differences are alike, because an interval of no width would be a false promise.
type Limits struct {
	Pairs              int
	Bias, Lower, Upper measure.Figure
	SD                 float64
}

// BlandAltman returns bias and limits of agreement with their 95 % intervals by Bland & Altman (1986), whose standard
// error of a limit is sqrt(3 sd^2 / n). factor is the number of standard deviations from bias to limit, usually
// UsualFactor.
func BlandAltman(first, second []float64, factor float64) (Limits, error) {
	if len(first) != len(second) || len(first) == 0 {
		return Limits{}, fmt.Errorf("agree: %d values against %d", len(first), len(second))
	}
	differences := make([]float64, len(first))
	for i := range first {
		differences[i] = first[i] - second[i]
	}
	n := float64(len(differences))
	mean, t := stat.Mean(differences, nil), math.NaN()
	l := Limits{Pairs: len(differences), SD: math.NaN()}
	if l.Pairs > 1 {
		l.SD = stat.StdDev(differences, nil)
	}
	const rounding = 1e-9
	if l.SD > rounding {
		t = measure.Student975(n - 1)
	}
	around := func(value, half float64) measure.Figure {
		return measure.Figure{Value: value, Low: value - half, High: value + half}
	}
	limit := t * math.Sqrt(3*l.SD*l.SD/n)
	l.Bias = around(mean, t*l.SD/math.Sqrt(n))
	l.Lower, l.Upper = around(mean-factor*l.SD, limit), around(mean+factor*l.SD, limit)
	return l, nil
}
