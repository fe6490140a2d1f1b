package agree

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/stat"

	"valvegrade/pkg/measure"
)

// ICC holds the six intraclass correlations of Shrout & Fleiss (1979) and the mean squares they come from.
//
// The correlations are at most 1, NaN when not determined; the ends of their intervals are NaN for complete agreement,
// too. Single forms describe one rater's figure, Average forms the
// mean of all raters. OneWay: other raters for each item. Random: these raters stand for all raters, so a rater's bias
// counts against them. Fixed: only these raters matter.
type ICC struct {
	Items, Raters int
	// Mean squares: between items, within items, between raters, residual.
	Between, Within, Judges, Residual          float64
	OneWaySingle, RandomSingle, FixedSingle    measure.Figure
	OneWayAverage, RandomAverage, FixedAverage measure.Figure
}

// IntraclassCorrelation takes values[item][rater], complete, at least 2 by 2.
func IntraclassCorrelation(values [][]float64) (ICC, error) {
	if len(values) < 2 || len(values[0]) < 2 {
		return ICC{}, fmt.Errorf("agree: intraclass correlation needs at least 2 items and 2 raters")
	}
	for i, row := range values {
		if len(row) != len(values[0]) {
			return ICC{}, fmt.Errorf("agree: item %d has %d ratings, the first has %d", i+1, len(row), len(values[0]))
		}
	}
	c := meanSquares(values)
	c.oneWay()
	c.random()
	c.fixed()
	return c, nil
}

// SEMConsistency is the standard error of one rating when a rater's constant bias does not matter: sqrt(Residual).
func (c ICC) SEMConsistency() float64 { return math.Sqrt(c.Residual) }

// SEMAgreement is the standard error of one rating with the raters' biases counted in.
func (c ICC) SEMAgreement() float64 {
	return math.Sqrt((c.Judges-c.Residual)/float64(c.Items) + c.Residual)
}

// meanSquares is the two-way analysis of variance without repeats.
func meanSquares(values [][]float64) ICC {
	n, k := float64(len(values)), float64(len(values[0]))
	judges := make([]float64, len(values[0]))
	items := make([]float64, len(values))
	for i, row := range values {
		items[i] = stat.Mean(row, nil)
		for j, v := range row {
			judges[j] += v / n
		}
	}
	grand := stat.Mean(items, nil)
	c := ICC{Items: len(values), Raters: len(judges)}
	var within, residual float64
	for i, row := range values {
		for j, v := range row {
			within += square(v - items[i])
			residual += square(v - items[i] - judges[j] + grand)
		}
	}
	c.Between = k * stat.Variance(items, nil)
	c.Judges = n * stat.Variance(judges, nil)
	c.Within = within / (n * (k - 1))
	c.Residual = residual / ((n - 1) * (k - 1))
	return c
}

func (c *ICC) oneWay() {
	n, k := float64(c.Items), float64(c.Raters)
	c.OneWaySingle, c.OneWayAverage = ratioForms(c.Between, c.Within, k, n-1, n*(k-1))
}

func (c *ICC) fixed() {
	n, k := float64(c.Items), float64(c.Raters)
	c.FixedSingle, c.FixedAverage = ratioForms(c.Between, c.Residual, k, n-1, (n-1)*(k-1))
}

// ratioForms are the forms that depend only on the ratio of two mean squares. Without noise both are 1, and without
// differences between items the average is not determined; no number of items puts an interval around either.
func ratioForms(between, noise, k, df1, df2 float64) (single, average measure.Figure) {
	f := between / noise
	one := func(f float64) float64 { return (f - 1) / (f + k - 1) }
	all := func(f float64) float64 { return 1 - 1/f }
	nan := math.NaN()
	const rounding = 1e-12 // mean squares that differ by more than this factor are remnants of 0
	switch {
	case noise <= rounding*between && between > 0:
		return measure.Figure{Value: 1, Low: nan, High: nan}, measure.Figure{Value: 1, Low: nan, High: nan}
	case !(between > rounding*noise):
		return measure.Figure{Value: one(f), Low: nan, High: nan}, measure.Unmeasured()
	}
	low, high := f/fisher975(df1, df2), f*fisher975(df2, df1)
	return measure.Figure{Value: one(f), Low: one(low), High: one(high)},
		measure.Figure{Value: all(f), Low: all(low), High: all(high)}
}

// random follows Shrout & Fleiss 1979: the interval uses an approximate number of degrees of freedom.
func (c *ICC) random() {
	n, k := float64(c.Items), float64(c.Raters)
	b, j, e := c.Between, c.Judges, c.Residual
	rho := (b - e) / (b + (k-1)*e + k*(j-e)/n)
	ratio := j / e
	rest := n*(1+(k-1)*rho) - k*rho
	df := (k - 1) * (n - 1) * square(k*rho*ratio+rest) / ((n-1)*square(k*rho*ratio) + square(rest))
	up, down := fisher975(n-1, df), fisher975(df, n-1)
	judgesPart := k*j + (k*n-k-n)*e
	c.RandomSingle = measure.Figure{
		Value: rho,
		Low:   n * (b - up*e) / (up*judgesPart + n*b),
		High:  n * (down*b - e) / (judgesPart + n*down*b),
	}
	if math.IsInf(rho, 0) { // two by two, and raters who say the opposite of each other
		c.RandomSingle.Value = math.NaN()
	}
	// Spearman-Brown: from one rater to the mean of k. Raters who contradict each other by more than k of them can have
	// no mean to speak of: the formula would turn round there and say more than 1.
	mean := func(r float64) float64 {
		if spread := 1 + r*(k-1); spread > 0 {
			return r * k / spread
		}
		return math.NaN()
	}
	c.RandomAverage = measure.Figure{Value: mean(rho), Low: mean(c.RandomSingle.Low), High: mean(c.RandomSingle.High)}
}
