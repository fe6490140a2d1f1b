package agree_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"valvegrade/pkg/agree"
)

// Bland & Altman (1986), table 1: peak expiratory flow of 17 subjects in l/min, two meters, each used twice.
var (
	wright1 = []float64{494, 395, 516, 434, 476, 557, 413, 442, 650, 433, 417, 656, 267, 478, 178, 423, 427}
	wright2 = []float64{490, 397, 512, 401, 470, 611, 415, 431, 638, 429, 420, 633, 275, 492, 165, 372, 421}
	mini1   = []float64{512, 430, 520, 428, 500, 600, 364, 380, 658, 445, 432, 626, 260, 477, 259, 350, 451}
	mini2   = []float64{525, 415, 508, 444, 500, 625, 460, 390, 642, 432, 420, 605, 227, 467, 268, 370, 443}
)

func TestLimitsOfBlandAltman1986(t *testing.T) {
	l, err := agree.BlandAltman(wright1, mini1, 2) // the paper works with 2 standard deviations
	require.NoError(t, err)
	assert.InDelta(t, -2.117647, l.Bias.Value, printed)
	assert.InDelta(t, 38.765130, l.SD, printed)
	assert.InDelta(t, -79.647907, l.Lower.Value, printed)
	assert.InDelta(t, 75.412613, l.Upper.Value, printed)
	assert.InDelta(t, -22.048838, l.Bias.Low, printed, "the paper: -22.0")
	assert.InDelta(t, 17.813544, l.Bias.High, printed, "the paper: 17.8")
	assert.InDelta(t, -114.169742, l.Lower.Low, printed, "the paper, from rounded figures: -114.3")
	assert.InDelta(t, -45.126072, l.Lower.High, printed, "the paper: -45.1")
	assert.InDelta(t, 40.890778, l.Upper.Low, printed, "the paper: 40.9")
	assert.InDelta(t, 109.934448, l.Upper.High, printed, "the paper: 110.1")

	usual, err := agree.BlandAltman(wright1, mini1, agree.UsualFactor)
	require.NoError(t, err)
	assert.InDelta(t, -78.097302, usual.Lower.Value, printed)
	assert.InDelta(t, 73.862007, usual.Upper.Value, printed)
}

func TestLimitsOfOnePairHaveNoWidth(t *testing.T) {
	l, err := agree.BlandAltman([]float64{30}, []float64{28}, agree.UsualFactor)
	require.NoError(t, err)
	assert.Equal(t, 2.0, l.Bias.Value)
	assert.True(t, math.IsNaN(l.SD) && math.IsNaN(l.Upper.Value) && math.IsNaN(l.Bias.Low))
	_, err = agree.BlandAltman(nil, nil, agree.UsualFactor)
	assert.Error(t, err)
}

func TestConcordance(t *testing.T) {
	c, err := agree.Lin(wright1, mini1)
	require.NoError(t, err)
	assert.InDelta(t, 0.943279, c.Pearson, printed, "Bland & Altman 1986 print .94")
	assert.InDelta(t, 0.942742, c.Value, printed, "Lin 1989 on the same data, by NumPy")

	shifted, err := agree.Lin([]float64{1, 2, 3, 4, 5}, []float64{2, 3, 4, 5, 6})
	require.NoError(t, err)
	assert.InDelta(t, 1, shifted.Pearson, 1e-12)
	assert.InDelta(t, 0.8, shifted.Value, 1e-12, "a constant shift of 1: 2*2/(2+2+1) by definition")
}

// The interval has no printed example at hand, so its promise is checked: it must hold the true concordance in 95 % of
// draws.
func TestConcordanceIntervalHoldsTheTruth(t *testing.T) {
	const draws, pairs, noise, bias = 4000, 40, 0.3, 0.2
	truth := 2 / (1 + 1 + noise*noise + bias*bias) // x ~ N(0,1), y = x + bias + noise
	random := rand.New(rand.NewPCG(1989, 2000))
	held := 0
	x, y := make([]float64, pairs), make([]float64, pairs)
	for range draws {
		for i := range x {
			x[i] = random.NormFloat64()
			y[i] = x[i] + bias + noise*random.NormFloat64()
		}
		c, err := agree.Lin(x, y)
		require.NoError(t, err)
		if c.Low <= truth && truth <= c.High {
			held++
		}
	}
	// 4000 draws have a standard error of 0.0034; the rest is room for the normal approximation at 40 pairs.
	assert.InDelta(t, 0.95, float64(held)/draws, 0.015)
}

func TestRepeatabilityOfBlandAltman1986(t *testing.T) {
	for _, row := range []struct {
		name                 string
		first, second        []float64
		mean, sd             float64
		within, limit, small float64
		paper                float64 // 2 sqrt(sum d^2 / n), printed to one digit
	}{
		{"Wright", wright1, wright2, 4.941176, 21.724038, 15.306669, 42.858674, 42.427922, 43.2},
		{"mini", mini1, mini2, -2.882353, 28.872310, 19.910831, 55.750326, 55.190007, 56.4},
	} {
		l, err := agree.BlandAltman(row.first, row.second, agree.UsualFactor)
		require.NoError(t, err)
		assert.InDelta(t, row.mean, l.Bias.Value, printed, row.name)
		assert.InDelta(t, row.sd, l.SD, printed, row.name)

		items := make([][]float64, len(row.first))
		for i := range items {
			items[i] = []float64{row.first[i], row.second[i]}
		}
		r := agree.Repeat(items)
		assert.Equal(t, 17, r.Items)
		assert.InDelta(t, row.within, r.SD.Value, printed, row.name)
		assert.InDelta(t, row.limit, r.Limit, 2e-6, row.name) // 2.8 times a figure of six digits
		assert.InDelta(t, row.small, r.SmallestDetectable, printed, row.name)
		assert.InDelta(t, row.paper, 2*math.Sqrt2*r.SD.Value, 0.1, "the paper computes from rounded figures: "+row.name)
		assert.Less(t, r.SD.Low, r.SD.Value)
		assert.Greater(t, r.SD.High, r.SD.Value)
	}
}

func TestRepeatabilityNeedsARepeat(t *testing.T) {
	r := agree.Repeat([][]float64{{20}, {30}})
	assert.Zero(t, r.Items)
	assert.True(t, math.IsNaN(r.SD.Value) && math.IsNaN(r.SD.Low) && math.IsNaN(r.SmallestDetectable))
	assert.InDelta(t, 5.543717, agree.SmallestDetectable(2), printed)
}

func TestPrecisionOfISO5725(t *testing.T) {
	// Constructed: 4 raters, 3 repeats of one item; expected values by one-way analysis of variance (statsmodels).
	p := agree.PrecisionOf([][][]float64{{{41, 43, 42}, {45, 44, 46}, {40, 41, 39}, {44, 43, 45}}})
	assert.Equal(t, 1, p.Items)
	assert.InDelta(t, 1, p.RepeatabilitySD, 1e-12)
	assert.InDelta(t, 4.583333, p.BetweenSD*p.BetweenSD, printed)
	assert.InDelta(t, 2.362908, p.ReproducibilitySD, printed)
	assert.InDelta(t, 2.8, p.RepeatabilityLimit, 1e-12)
	assert.InDelta(t, 6.616142, p.ReproducibilityLimit, printed)

	alike := agree.PrecisionOf([][][]float64{{{41, 43}, {42, 42}}})
	assert.Zero(t, alike.BetweenSD, "a negative variance between raters is set to 0")
	none := agree.PrecisionOf([][][]float64{{{41, 42}}, {{40}}})
	assert.True(t, math.IsNaN(none.ReproducibilitySD), "no item was rated by two")
}

// Snedecor & Cochran, Statistical Methods, 6th edition (1967), table 10.16.1: calcium in turnip greens, two determinations
// of three leaves of four plants; mean squares 0.3288 of leaves in plants and 0.0067 of determinations.
func TestPrecisionOfTurnipGreens(t *testing.T) {
	p := agree.PrecisionOf([][][]float64{
		{{3.28, 3.09}, {3.52, 3.48}, {2.88, 2.80}}, {{2.46, 2.44}, {1.87, 1.92}, {2.19, 2.19}},
		{{2.77, 2.66}, {3.74, 3.44}, {2.55, 2.55}}, {{3.78, 3.87}, {4.07, 4.12}, {3.31, 3.31}},
	})
	assert.Equal(t, 4, p.Items)
	assert.InDelta(t, 0.0067, p.RepeatabilitySD*p.RepeatabilitySD, 5e-5)
	assert.InDelta(t, (0.3288-0.0067)/2, p.BetweenSD*p.BetweenSD, 5e-5)
}

// Most photos are rated once by each: all of them count. Sums of the observations themselves, as fractions: within 20/3
// with 3 degrees of freedom, between 110/3 with 4, N - sum n_ij^2/n_i = 13/3, so that s_L^2 = (110/3 - 4 20/9) / (13/3).
func TestPrecisionOfUnequalRepeats(t *testing.T) {
	p := agree.PrecisionOf([][][]float64{{{10, 12}, {15}}, {{20}, {24}}, {{30}, {33}, {36}}, {{50, 51, 53}}})
	assert.Equal(t, [2]int{3, 2}, [2]int{p.Items, p.Repeated})
	assert.InDelta(t, 20./9, p.RepeatabilitySD*p.RepeatabilitySD, 1e-12)
	assert.InDelta(t, 250./39, p.BetweenSD*p.BetweenSD, 1e-12)
	assert.InDelta(t, 20./9+250./39, p.ReproducibilitySD*p.ReproducibilitySD, 1e-12)

	// Without a repeat the sum of both is known: for pairs sqrt(sum d^2 / 2n).
	once := agree.PrecisionOf([][][]float64{{{20}, {24}}, {{30}, {36}}})
	assert.InDelta(t, (16.+36)/4, once.ReproducibilitySD*once.ReproducibilitySD, 1e-12)
	assert.True(t, math.IsNaN(once.BetweenSD) && math.IsNaN(once.RepeatabilitySD))
	assert.Equal(t, [2]int{2, 0}, [2]int{once.Items, once.Repeated})
}

func TestWilsonOfNewcombe1998(t *testing.T) {
	// Examples a to d of Newcombe (1998) and three ends; values by statsmodels.
	for _, row := range []struct {
		count, of int
		low, high float64
	}{
		{81, 263, 0.255289, 0.366210}, {15, 148, 0.062386, 0.160487}, {0, 20, 0, 0.161125}, {1, 29, 0.006113, 0.171755},
		{9, 10, 0.595850, 0.982124}, {18, 20, 0.698966, 0.972134}, {20, 20, 0.838875, 1},
	} {
		p := agree.Wilson(row.count, row.of)
		assert.InDelta(t, row.low, p.Low, printed, "%d of %d", row.count, row.of)
		assert.InDelta(t, row.high, p.High, printed, "%d of %d", row.count, row.of)
	}
	assert.True(t, math.IsNaN(agree.Wilson(0, 0).Value))
}

// What a few ratings did not show may be there all the same: no interval of no width, and nothing that is sure above 0.
func TestNoScatterPromisesNothing(t *testing.T) {
	r := agree.Repeat([][]float64{{2, 2}, {3, 3, 3}})
	assert.Equal(t, 0.0, r.SD.Value)
	l, err := agree.BlandAltman([]float64{0.1, 0.2, 0.7}, []float64{0.2, 0.3, 0.8}, agree.UsualFactor)
	require.NoError(t, err)
	assert.InDelta(t, -0.1, l.Bias.Value, 1e-12)
	for name, v := range map[string]float64{
		"low": r.SD.Low, "high": r.SD.High, "limit": r.Limit, "smallest detectable": r.SmallestDetectable,
		"bias": l.Bias.Low, "lower limit": l.Lower.High, "upper limit": l.Upper.Low,
	} {
		assert.True(t, math.IsNaN(v), name)
	}
}
