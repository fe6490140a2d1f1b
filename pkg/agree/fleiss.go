package agree

import (
	"fmt"
	"math"
)

// Fleiss is chance-corrected agreement of many raters.
type Fleiss struct {
	// Observed and Expected are the mean share of agreeing pairs of raters, and the share to be expected by chance, 0
	// to 1.
	Observed, Expected float64
	// Value is the kappa, NaN when all ratings fall into one class.
	Value float64
	// NullSE is the standard error without agreement beyond chance, and Z is Value / NullSE.
	NullSE, Z float64
	// Shares is how often each class was used, 0 to 1; ByClass is the kappa of each class against all others, NaN for a
	// class that was never or always used.
	Shares, ByClass []float64
}

// FleissKappa returns the kappa of Fleiss (1971) with the standard error of Fleiss, Nee & Landis (1979). counts[i][j]
// is the number of raters who put item i into class j; every item must have the same number of raters, at least 2.
func FleissKappa(counts [][]int) (Fleiss, error) {
	raters, err := ratersOf(counts)
	if err != nil {
		return Fleiss{}, err
	}
	items, n := float64(len(counts)), float64(raters)
	f := Fleiss{Shares: make([]float64, len(counts[0])), ByClass: make([]float64, len(counts[0]))}
	disagreeing := make([]float64, len(counts[0]))
	for _, row := range counts {
		for j, c := range row {
			x := float64(c)
			f.Shares[j] += x / (items * n)
			f.Observed += x * (x - 1) / (items * n * (n - 1))
			disagreeing[j] += x * (n - x) / (items * n * (n - 1))
		}
	}
	const rounding = 1e-12   // p q below this is a remnant of "all ratings in one class"
	var spread, skew float64 // sums of p q and of p q (q - p)
	for j, p := range f.Shares {
		q := 1 - p
		f.Expected += p * p
		spread += p * q
		skew += p * q * (q - p)
		f.ByClass[j] = math.NaN()
		if p*q > rounding {
			f.ByClass[j] = 1 - disagreeing[j]/(p*q)
		}
	}
	if spread < rounding {
		f.Value, f.NullSE, f.Z = math.NaN(), math.NaN(), math.NaN()
		return f, nil
	}
	f.Value = (f.Observed - f.Expected) / (1 - f.Expected)
	f.NullSE = math.Sqrt(2/(items*n*(n-1))) * math.Sqrt(spread*spread-skew) / spread
	f.Z = f.Value / f.NullSE
	return f, nil
}

func ratersOf(counts [][]int) (int, error) {
	if len(counts) == 0 {
		return 0, fmt.Errorf("agree: no items")
	}
	raters := 0
	for i, row := range counts {
		sum := 0
		for _, c := range row {
			if c < 0 {
				return 0, fmt.Errorf("agree: item %d has the count %d", i+1, c)
			}
			sum += c
		}
		if i == 0 {
			raters = sum
		}
		if sum != raters || len(row) != len(counts[0]) {
			return 0, fmt.Errorf(
				"agree: item %d has %d ratings in %d classes, the first has %d in %d",
				i+1,
				sum,
				len(row),
				raters,
				len(counts[0]),
			)
		}
	}
	if raters < 2 {
		return 0, fmt.Errorf("agree: %d rater, at least 2 are needed", raters)
	}
	return raters, nil
}
