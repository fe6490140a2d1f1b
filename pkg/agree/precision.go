package agree

import (
	"math"

	"gonum.org/v1/gonum/stat"
)

// Precision separates the scatter of one rater from that between raters, in the unit of the values (ISO 5725-2, ASTM
// E691).
type Precision struct {
	// Items counts the items that two raters or more rated, Repeated those that one rater rated again.
	Items, Repeated int
	// RepeatabilitySD is s_r, one rater; BetweenSD is s_L, between raters (0 when the data show none); both are NaN when
	// nobody repeated. ReproducibilitySD is s_R = sqrt(s_r^2 + s_L^2), any two raters; NaN when no item was rated by two.
	RepeatabilitySD, BetweenSD, ReproducibilitySD float64
	// RepeatabilityLimit is r = 2.8 s_r, ReproducibilityLimit is R = 2.8 s_R.
	RepeatabilityLimit, ReproducibilityLimit float64
}

// PrecisionOf takes items[item][rater][repeat]; raters may repeat unequally often, and need not repeat every item.
//
// Raters are nested in items, so that what a rater sees differently in one item counts as scatter between raters, as in
// ISO 5725-2. The components are those of the analysis of variance of the nested classification with unequal numbers
// (Searle, Casella & McCulloch, Variance Components, 1992; Henderson, Biometrics 9 (1953) 226, his first method): with
// n_ij ratings of item i by rater j, n_i of the item, N of all items with two raters or more, and b - a the degrees of
// freedom between raters,
//
//	s_r^2 = SS within / df within, of all ratings that were repeated,
//	s_L^2 = (SS between - (b - a) s_r^2) / (N - sum n_ij^2 / n_i),
//
// a negative one set to 0 as the standard asks. Where nobody repeated, each n_ij is 1, and SS between / (b - a) is s_R^2:
// the sum of the two, which cannot be told apart then.
func PrecisionOf(items [][][]float64) Precision {
	var p Precision
	var all nested
	for _, raters := range items {
		one := nestedOf(raters)
		if one.withinDF > 0 {
			p.Repeated++
		}
		if one.betweenDF > 0 {
			p.Items++
		}
		all.add(one)
	}
	sr := all.within / all.withinDF // 0/0 is NaN, as promised
	sl := math.Max(0, (all.between-all.betweenDF*sr)/all.size)
	reproducibility := sr + sl
	if all.withinDF == 0 {
		reproducibility = all.between / all.betweenDF
	}
	p.RepeatabilitySD, p.BetweenSD, p.ReproducibilitySD = math.Sqrt(sr), math.Sqrt(sl), math.Sqrt(reproducibility)
	p.RepeatabilityLimit, p.ReproducibilityLimit = 2.8*p.RepeatabilitySD, 2.8*p.ReproducibilitySD
	return p
}

// nested are sums of squares within raters and between them, with their degrees of freedom; size is N - sum n_ij^2 / n_i.
type nested struct{ within, withinDF, between, betweenDF, size float64 }

func (s *nested) add(o nested) {
	s.within, s.withinDF = s.within+o.within, s.withinDF+o.withinDF
	s.between, s.betweenDF, s.size = s.between+o.between, s.betweenDF+o.betweenDF, s.size+o.size
}

// nestedOf are the sums of one item.
func nestedOf(raters [][]float64) nested {
	var s nested
	var n, n2 float64
	var means, sizes []float64
	for _, values := range raters {
		if len(values) == 0 {
			continue
		}
		size := float64(len(values))
		if size > 1 {
			s.within += stat.Variance(values, nil) * (size - 1)
		}
		s.withinDF += size - 1
		n, n2 = n+size, n2+size*size
		means, sizes = append(means, stat.Mean(values, nil)), append(sizes, size)
	}
	if len(means) < 2 {
		return s
	}
	grand := stat.Mean(means, sizes)
	for i, m := range means {
		s.between += sizes[i] * square(m-grand)
	}
	s.betweenDF, s.size = float64(len(means)-1), n-n2/n
	return s
}
