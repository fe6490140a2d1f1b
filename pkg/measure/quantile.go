package measure

import "gonum.org/v1/gonum/stat/distuv"

// upper is the probability below the upper end of a two-sided 95 % interval.
const upper = 0.975

// Normal975 is the quantile of the standard normal distribution at 0.975: the half width of a 95 % interval in standard
// deviations.
var Normal975 = distuv.UnitNormal.Quantile(upper)

// Student975 is the quantile of Student's t distribution at 0.975: the half width of a 95 % interval in standard
// deviations that were themselves estimated with so many degrees of freedom.
func Student975(df float64) float64 {
	return distuv.StudentsT{Mu: 0, Sigma: 1, Nu: df}.Quantile(upper)
}
