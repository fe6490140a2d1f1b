package agree

import (
	"math"

	"gonum.org/v1/gonum/stat"
)

// Precision separates the scatter of one rater from that between raters, in the unit of the values (ISO 5725-2, ASTM
// E691). All figures are NaN when no item was rated by two raters of whom at least one repeated.
type Precision struct {
	// Items counts the items that carried the estimate.
	Items int
	// RepeatabilitySD is s_r, one rater; BetweenSD is s_L, between raters (0 when the data show none);
	// ReproducibilitySD is s_R = sqrt(s_r^2 + s_L^2), any two raters.
	RepeatabilitySD, BetweenSD, ReproducibilitySD float64
	// RepeatabilityLimit is r = 2.8 s_r, ReproducibilityLimit is R = 2.8 s_R.
	RepeatabilityLimit, ReproducibilityLimit float64
}

// PrecisionOf takes items[item][rater][repeat]; raters may repeat unequally often. Each item is a level of ISO 5725-2;
// the variances of the levels are pooled by their degrees of freedom, and a negative s_L^2 is set to 0 as the standard
// asks.
func PrecisionOf(items [][][]float64) Precision {
	var p Precision
	var within, withinDF, between, betweenDF float64
	for _, raters := range items {
		l := levelOf(raters)
		if l.raters < 2 || l.withinDF == 0 {
			continue
		}
		p.Items++
		within += l.within * l.withinDF
		withinDF += l.withinDF
		between += l.between * float64(l.raters-1)
		betweenDF += float64(l.raters - 1)
	}
	sr := within / withinDF // 0/0 is NaN, as promised
	sl := math.Max(0, between/betweenDF)
	p.RepeatabilitySD, p.BetweenSD, p.ReproducibilitySD = math.Sqrt(sr), math.Sqrt(sl), math.Sqrt(sr+sl)
	p.RepeatabilityLimit, p.ReproducibilityLimit = 2.8*p.RepeatabilitySD, 2.8*p.ReproducibilitySD
	return p
}

// level is the one-way analysis of variance of one item: variances within and between raters.
type level struct {
	raters                    int
	within, withinDF, between float64
}

func levelOf(raters [][]float64) level {
	var l level
	var squares, n, n2 float64
	var means, sizes []float64
	for _, values := range raters {
		if len(values) == 0 {
			continue
		}
		size := float64(len(values))
		l.raters++
		if size > 1 {
			squares += stat.Variance(values, nil) * (size - 1)
		}
		l.withinDF += size - 1
		n, n2 = n+size, n2+size*size
		means, sizes = append(means, stat.Mean(values, nil)), append(sizes, size)
	}
	if l.raters < 2 || l.withinDF == 0 {
		return l
	}
	l.within = squares / l.withinDF
	grand := stat.Mean(means, sizes)
	var ms float64
	for i, m := range means {
		ms += sizes[i] * square(m-grand) / float64(l.raters-1)
	}
	size := (n - n2/n) / float64(l.raters-1) // the mean number of repeats of ISO 5725-2, equal to it when all are alike
	l.between = (ms - l.within) / size
	return l
}
