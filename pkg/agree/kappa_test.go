package agree_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"valvegrade/pkg/agree"
)

// printed is half a unit of the last of six printed digits.
const printed = 5e-7

// cohen1960 is the example of Cohen (1960), used again in Cohen (1968): two judges, 200 patients, rows judge A.
var cohen1960 = agree.Table{{88, 14, 18}, {10, 40, 10}, {2, 6, 12}}

func kappaOf(t *testing.T, table agree.Table, w agree.Weights) agree.Kappa {
	t.Helper()
	k, err := agree.WeightedKappa(table, w)
	require.NoError(t, err)
	return k
}

func TestKappaOfCohen1960(t *testing.T) {
	k := kappaOf(t, cohen1960, agree.Exact(3))
	assert.InDelta(t, 0.70, k.Observed, 1e-12)
	assert.InDelta(t, 0.41, k.Expected, 1e-12)
	assert.InDelta(t, 0.492, k.Value, 5e-4, "Cohen 1960 prints three digits")
	assert.InDelta(t, 0.491525, k.Value, printed)
	assert.InDelta(t, 0.051002, k.SE, printed, "Fleiss, Cohen & Everitt 1969 by statsmodels")
	assert.InDelta(t, 0.051979, k.NullSE, printed, "the same")
	assert.InDelta(t, 0.391564, k.Low, printed)
	assert.InDelta(t, 0.591487, k.High, printed)
	// The simpler standard errors of the 1960 paper follow from the two shares.
	assert.InDelta(t, 0.054922, math.Sqrt(k.Observed*(1-k.Observed)/200)/(1-k.Expected), printed)
	assert.InDelta(t, 0.058946, math.Sqrt(k.Expected/(200*(1-k.Expected))), printed)
}

func TestWeightedKappaOfCohen1960(t *testing.T) {
	linear := kappaOf(t, cohen1960, agree.Linear(3)) // expected values: scikit-learn and statsmodels
	assert.InDelta(t, 0.473684, linear.Value, printed)
	assert.InDelta(t, 0.054432, linear.SE, printed)
	assert.InDelta(t, 0.366999, linear.Low, printed)
	assert.InDelta(t, 0.580370, linear.High, printed)

	quadratic := kappaOf(t, cohen1960, agree.Quadratic(3)) // scikit-learn, statsmodels and R psych
	assert.InDelta(t, 0.454545, quadratic.Value, printed)
	assert.InDelta(t, 0.066454, quadratic.SE, printed)
	// The listed ends follow from the printed standard error, so its rounding counts twice.
	assert.InDelta(t, 0.324298, quadratic.Low, 3*printed)
	assert.InDelta(t, 0.584792, quadratic.High, 3*printed)
}

func TestDisagreementWeightsOfCohen1968(t *testing.T) {
	w, err := agree.FromDisagreement([][]float64{{0, 1, 3}, {1, 0, 6}, {3, 6, 0}})
	require.NoError(t, err)
	k := kappaOf(t, cohen1960, w)
	assert.InDelta(t, 0.348, k.Value, 5e-4, "Cohen 1968 prints three digits")
	assert.InDelta(t, 1-0.900/1.380, k.Value, 1e-12, "the paper's sums of weighted disagreement")
}

func TestKappaOfFleissCohenEveritt1969(t *testing.T) {
	table := agree.Table{{106, 10, 4}, {22, 28, 10}, {2, 12, 6}}
	assert.InDelta(t, 0.428571, kappaOf(t, table, agree.Exact(3)).Value, printed)

	k := kappaOf(t, table, agree.Weights{{1, 0, 0.4444}, {0, 1, 0.6667}, {0.4444, 0.6667, 1}})
	// The paper prints weights of four digits; between .4444, .6667 and 4/9, 2/3 kappa moves from .507070 to .507060.
	assert.InDelta(t, 0.507065, k.Value, 1e-5, "data of R psych, value by statsmodels")
	assert.InDelta(t, 0.056994, k.SE, printed)
	assert.InDelta(t, 0.065336, k.NullSE, printed)
}

func TestKappaOfGrades(t *testing.T) {
	// Constructed table of grades 0 to 4, 100 photos; expected values by scikit-learn.
	table := agree.Table{{20, 3, 0, 0, 0}, {2, 18, 4, 0, 0}, {0, 3, 15, 2, 0}, {0, 0, 3, 12, 2}, {0, 0, 0, 2, 14}}
	assert.Equal(t, 100, table.Total())
	assert.InDelta(t, 0.79, table.Within(0).Value, 1e-12)
	assert.InDelta(t, 1.00, table.Within(1).Value, 1e-12)
	assert.InDelta(t, 0.735849, kappaOf(t, table, agree.Exact(5)).Value, printed)
	assert.InDelta(t, 0.864865, kappaOf(t, table, agree.Linear(5)).Value, printed)
	assert.InDelta(t, 0.944824, kappaOf(t, table, agree.Quadratic(5)).Value, printed)
}

func TestKappaIsNotDefinedWhenBothUseOneClass(t *testing.T) {
	k := kappaOf(t, agree.Table{{7, 0}, {0, 0}}, agree.Exact(2))
	for name, v := range map[string]float64{"value": k.Value, "se": k.SE, "low": k.Low, "high": k.High} {
		assert.True(t, math.IsNaN(v), name)
	}
}

func TestCompleteAgreementPromisesNoInterval(t *testing.T) {
	k := kappaOf(t, agree.Table{{2, 0}, {0, 1}}, agree.Quadratic(2))
	assert.Equal(t, 1.0, k.Value)
	assert.True(t, math.IsNaN(k.Low) && math.IsNaN(k.High), "three photos do not prove kappa = 1")
}

func TestKappaRefusesWrongShapes(t *testing.T) {
	_, err := agree.WeightedKappa(agree.Table{{1, 2}, {3}}, agree.Exact(2))
	assert.ErrorContains(t, err, "row 2 of the table")
	_, err = agree.WeightedKappa(agree.Table{{1, 2}, {3, 4}}, agree.Exact(3))
	assert.ErrorContains(t, err, "weights for 3 classes")
	_, err = agree.WeightedKappa(agree.Table{{1, -2}, {3, 4}}, agree.Exact(2))
	assert.ErrorContains(t, err, "count -2")
	_, err = agree.FromDisagreement([][]float64{{0, math.NaN()}, {1, 0}})
	assert.ErrorContains(t, err, "not 0 or more")
	_, err = agree.Tabulate(5, []int{0, 5}, []int{0, 4})
	assert.ErrorContains(t, err, "pair 2 is 5 and 4")
}

func TestTabulateCountsRowsByFirstRater(t *testing.T) {
	table, err := agree.Tabulate(3, []int{0, 2, 2}, []int{1, 2, 2})
	require.NoError(t, err)
	assert.Equal(t, agree.Table{{0, 1, 0}, {0, 0, 0}, {0, 0, 2}}, table)
}
