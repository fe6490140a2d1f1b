package agree

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/stat"
)

// UsualFactor is the number of standard deviations between bias and limit that Bland & Altman settled on; their paper of
// 1986 works its example with 2.
const UsualFactor = 1.96

// Limits are limits of agreement: about 95 % of differences first - second lie between Lower and Upper, in the unit of the
// values. SD and what follows from it are NaN for fewer than two pairs.
type Limits struct {
	Pairs                      int
	Bias, BiasLow, BiasHigh    float64
	SD                         float64
	Lower, LowerLow, LowerHigh float64
	Upper, UpperLow, UpperHigh float64
}

// BlandAltman returns bias and limits of agreement with their 95 % intervals by Bland & Altman (1986), whose standard error
// of a limit is sqrt(3 sd^2 / n). factor is the number of standard deviations from bias to limit, usually UsualFactor.
func BlandAltman(first, second []float64, factor float64) (Limits, error) {
	if len(first) != len(second) || len(first) == 0 {
		return Limits{}, fmt.Errorf("agree: %d values against %d", len(first), len(second))
	}
	differences := make([]float64, len(first))
	for i := range first {
		differences[i] = first[i] - second[i]
	}
	n := float64(len(differences))
	l := Limits{Pairs: len(differences), Bias: stat.Mean(differences, nil), SD: math.NaN()}
	t := math.NaN()
	if l.Pairs > 1 {
		l.SD, t = stat.StdDev(differences, nil), student975(n-1)
	}
	bias, limit := t*l.SD/math.Sqrt(n), t*math.Sqrt(3*l.SD*l.SD/n)
	l.BiasLow, l.BiasHigh = l.Bias-bias, l.Bias+bias
	l.Lower, l.Upper = l.Bias-factor*l.SD, l.Bias+factor*l.SD
	l.LowerLow, l.LowerHigh = l.Lower-limit, l.Lower+limit
	l.UpperLow, l.UpperHigh = l.Upper-limit, l.Upper+limit
	return l, nil
}
