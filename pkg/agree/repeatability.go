package agree

import (
	"math"

	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"

	"valvegrade/pkg/measure"
)

// Repeatability says how far one rater's, or the program's, figures for the same thing scatter, in the unit of the
// values.
type Repeatability struct {
	// Items were rated at least twice, Ratings times together.
	Items, Ratings int
	// SD is the within-item standard deviation s_w, with its 95 % interval; NaN when nothing was repeated. Where no two
	// ratings differ it is 0, and the ends of its interval are NaN, as Limit and SmallestDetectable are: a scatter that a
	// few ratings did not show is no promise that there is none.
	SD measure.Figure
	// Limit is 2.8 SD, the repeatability limit r: two ratings of one item differ by less in 95 % of cases (ISO 5725-6).
	Limit float64
	// SmallestDetectable is 1.96 sqrt(2) SD: a difference between two ratings must exceed it to be a change.
	SmallestDetectable float64
}

// Repeat takes the ratings of each item; items with a single rating do not count. Variances are pooled over items by
// their degrees of freedom; for pairs this is sqrt(sum d^2 / 2n) (Bland & Altman 1986).
func Repeat(items [][]float64) Repeatability {
	var r Repeatability
	var squares, df float64
	for _, values := range items {
		if len(values) < 2 {
			continue
		}
		r.Items++
		r.Ratings += len(values)
		squares += stat.Variance(values, nil) * float64(len(values)-1)
		df += float64(len(values) - 1)
	}
	r.SD, r.Limit, r.SmallestDetectable = measure.Unmeasured(), math.NaN(), math.NaN()
	if df > 0 {
		r.SD.Value = math.Sqrt(squares / df)
	}
	if r.SD.Value > 0 {
		chi := distuv.ChiSquared{K: df}
		r.SD.Low, r.SD.High = math.Sqrt(squares/chi.Quantile(upper)), math.Sqrt(squares/chi.Quantile(1-upper))
		r.Limit, r.SmallestDetectable = 2.8*r.SD.Value, SmallestDetectable(r.SD.Value)
	}
	return r
}

// SmallestDetectable returns the smallest difference of two figures, each with the standard deviation sd, that noise
// alone exceeds in only 5 % of cases: 1.96 sqrt(2) sd.
func SmallestDetectable(sd float64) float64 { return UsualFactor * math.Sqrt2 * sd }
