package agree

import "gonum.org/v1/gonum/stat/distuv"

// upper is the probability below the upper end of a two-sided 95 % interval.
const upper = 0.975

func fisher975(df1, df2 float64) float64 {
	return distuv.F{D1: df1, D2: df2}.Quantile(upper)
}
