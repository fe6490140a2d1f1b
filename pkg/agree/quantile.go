package agree

import "gonum.org/v1/gonum/stat/distuv"

// upper is the probability below the upper end of a two-sided 95 % interval.
const upper = 0.975

// normal975 is the quantile of the standard normal distribution at 0.975.
const normal975 = 1.959963984540054

func student975(df float64) float64 {
	return distuv.StudentsT{Mu: 0, Sigma: 1, Nu: df}.Quantile(upper)
}

func fisher975(df1, df2 float64) float64 {
	return distuv.F{D1: df1, D2: df2}.Quantile(upper)
}
