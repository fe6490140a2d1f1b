package agree

import (
	"fmt"
	"math"

	"valvegrade/pkg/measure"
)

// Kappa is chance-corrected agreement of two raters.
type Kappa struct {
	// Observed and Expected are the weighted shares of agreement found, and to be expected by chance, 0 to 1.
	Observed, Expected float64
	// Figure is (Observed - Expected) / (1 - Expected), at most 1; NaN when both raters used one and the same class.
	// The ends of its interval are NaN for complete agreement, too: there the standard error is 0 whatever the number
	// of photos, and an interval of no width would be a false promise.
	measure.Figure
	// SE is the standard error of Value, NullSE the one to test Value against 0 with.
	SE, NullSE float64
}

// WeightedKappa returns the weighted kappa of Cohen (1968) with the large-sample standard errors of Fleiss, Cohen &
// Everitt (1969). With Exact weights it is the kappa of Cohen (1960).
func WeightedKappa(t Table, w Weights) (Kappa, error) {
	if err := t.square(); err != nil {
		return Kappa{}, err
	}
	if len(w) != len(t) {
		return Kappa{}, fmt.Errorf("agree: weights for %d classes, table of %d", len(w), len(t))
	}
	for i, row := range w {
		if len(row) != len(t) {
			return Kappa{}, fmt.Errorf("agree: row %d of the weights has %d columns, want %d", i+1, len(row), len(t))
		}
	}
	n := float64(t.Total())
	m := marginsOf(t, w, n)
	k := Kappa{Observed: m.observed, Expected: m.expected}
	const chance = 1e-12 // 1 - Expected below this is a rounding remnant of "both raters used one class"
	if n == 0 || 1-m.expected < chance {
		k.Figure, k.SE, k.NullSE = measure.Unmeasured(), math.NaN(), math.NaN()
		return k, nil
	}
	k.Value = (m.observed - m.expected) / (1 - m.expected)
	k.SE, k.NullSE = m.errors(t, w, n, k.Value)
	k.Low, k.High = k.Value-measure.Normal975*k.SE, math.Min(1, k.Value+measure.Normal975*k.SE)
	if k.SE == 0 {
		k.Low, k.High = math.NaN(), math.NaN()
	}
	return k, nil
}

// margins are the sums that kappa and its standard errors share.
type margins struct {
	rows, columns           []float64 // shares of each class
	rowWeight, columnWeight []float64 // mean weight of a class against the other rater's shares
	observed, expected      float64
}

func marginsOf(t Table, w Weights, n float64) margins {
	size := len(t)
	m := margins{
		rows: make([]float64, size), columns: make([]float64, size),
		rowWeight: make([]float64, size), columnWeight: make([]float64, size),
	}
	for i, row := range t {
		for j, c := range row {
			p := float64(c) / n
			m.rows[i] += p
			m.columns[j] += p
			m.observed += w[i][j] * p
		}
	}
	for i := range t {
		for j := range t {
			m.rowWeight[i] += m.columns[j] * w[i][j]
			m.columnWeight[j] += m.rows[i] * w[i][j]
			m.expected += m.rows[i] * m.columns[j] * w[i][j]
		}
	}
	return m
}

// errors returns the standard error of kappa and the one under the hypothesis of no agreement beyond chance: Fleiss,
// Cohen & Everitt 1969, equations 8 and 9.
func (m margins) errors(t Table, w Weights, n, kappa float64) (se, nullSE float64) {
	var sum, nullSum float64
	for i, row := range t {
		for j, c := range row {
			mean := m.rowWeight[i] + m.columnWeight[j]
			sum += float64(c) / n * square(w[i][j]-mean*(1-kappa))
			nullSum += m.rows[i] * m.columns[j] * square(w[i][j]-mean)
		}
	}
	scale := 1 / (n * square(1-m.expected))
	// Rounding may leave a negative remnant where the difference is 0.
	se = math.Sqrt(math.Max(0, scale*(sum-square(kappa-m.expected*(1-kappa)))))
	nullSE = math.Sqrt(math.Max(0, scale*(nullSum-square(m.expected))))
	const rounding = 1e-8
	if se < rounding {
		se = 0
	}
	return se, nullSE
}

func square(x float64) float64 { return x * x }
