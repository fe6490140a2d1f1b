package trend_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"valvegrade/pkg/measure"
	"valvegrade/pkg/trend"
)

// printed is half a unit of the last of six printed digits.
const printed = 5e-7

func points(x, y []float64, sd float64) []trend.Point {
	all := make([]trend.Point, len(x))
	for i := range x {
		all[i] = trend.Point{X: x[i], Y: figure(y[i], sd)}
	}
	return all
}

// figure has the interval of a normal distribution.
func figure(y, sd float64) measure.Figure {
	return measure.Figure{Value: y, Low: y - measure.Normal975*sd, High: y + measure.Normal975*sd}
}

func relative(t *testing.T, want, got, tolerance float64, name string) {
	t.Helper()
	assert.InDelta(t, want, got, math.Abs(want)*tolerance, name)
}

func TestLeastSquaresOfNorris(t *testing.T) {
	f, err := trend.LeastSquares(norris)
	require.NoError(t, err)
	// Certified values of NIST StRD Norris (linear, lower difficulty).
	relative(t, -0.262323073774029, f.Intercept, 1e-9, "intercept")
	relative(t, 1.00211681802045, f.Slope.Value, 1e-12, "slope")
	relative(t, 0.232818234301152, f.InterceptSE, 1e-9, "sd of the intercept")
	relative(t, 0.429796848199937e-3, f.SlopeSE, 1e-9, "sd of the slope")
	relative(t, 0.884796396144373, f.ResidualSD, 1e-9, "residual sd")
	relative(t, 26.6173985294224, 34*f.ResidualSD*f.ResidualSD, 1e-8, "residual sum of squares")
	relative(t, 5436385.54079785, math.Pow(f.Slope.Value/f.SlopeSE, 2), 1e-8, "F")

	// Derived with SciPy from the same data.
	relative(t, -7.743275363e-05, -f.CentreX*f.SlopeSE*f.SlopeSE, 1e-9, "covariance")
	assert.InDelta(t, 1.0012433657, f.Slope.Low, 5e-11)
	assert.InDelta(t, 1.0029902703, f.Slope.High, 5e-11)
	line := f.At(500)
	assert.InDelta(t, 500.796085936, line.Value, 5e-10)
	assert.InDelta(t, 0.151502176*2.032244509, (line.High-line.Low)/2, 2e-9, "se of the mean times t(.975, 34)")
}

func TestTheilSenOfNorris(t *testing.T) {
	f, err := trend.TheilSen(norris) // expected values by SciPy; the data have ties in x and in y
	require.NoError(t, err)
	assert.InDelta(t, 1.0021968366, f.Slope.Value, 5e-11)
	assert.InDelta(t, 1.0011153246, f.Slope.Low, 5e-11)
	assert.InDelta(t, 1.0030534351, f.Slope.High, 5e-11)
}

func TestTheilSenIgnoresAnOutlier(t *testing.T) {
	x := []float64{0, 10, 20, 30, 40, 50}
	// Expected values by SciPy.
	wild, err := trend.TheilSen(points(x, []float64{2, 9, 17, 24, 80, 38}, math.NaN()))
	require.NoError(t, err)
	assert.InDelta(t, 0.733333, wild.Slope.Value, printed)
	assert.InDelta(t, 2.166667, wild.Intercept, printed)
	assert.InDelta(t, 0.7, wild.Slope.Low, 1e-12)
	assert.InDelta(t, 3.15, wild.Slope.High, 1e-12)
	squares, err := trend.LeastSquares(points(x, []float64{2, 9, 17, 24, 80, 38}, math.NaN()))
	require.NoError(t, err)
	assert.InDelta(t, 1.142857, squares.Slope.Value, printed)
	assert.InDelta(t, -0.238095, squares.Intercept, printed)

	calm, err := trend.TheilSen(points(x, []float64{2, 9, 17, 24, 31, 38}, math.NaN()))
	require.NoError(t, err)
	assert.InDelta(t, 0.72, calm.Slope.Value, 1e-12)
	assert.InDelta(t, 2.5, calm.Intercept, 1e-12)
	assert.InDelta(t, 0.7, calm.Slope.Low, 1e-12)
	assert.InDelta(t, 0.75, calm.Slope.High, 1e-12)
	squares, err = trend.LeastSquares(points(x, []float64{2, 9, 17, 24, 31, 38}, math.NaN()))
	require.NoError(t, err)
	assert.InDelta(t, 0.722857, squares.Slope.Value, printed)
	assert.InDelta(t, 2.095238, squares.Intercept, printed)
	assert.InDelta(t, 0.007737, squares.SlopeSE, printed)
}

// miles is the example of an index over an odometer; expected values by SciPy.
var miles = points([]float64{15000, 30000, 45000, 60000}, []float64{12, 22, 35, 44}, math.NaN())

func TestLeastSquaresOfIndexOverMiles(t *testing.T) {
	f, err := trend.LeastSquares(miles)
	require.NoError(t, err)
	assert.InDelta(t, 7.266667, f.Slope.Value*1e4, printed)
	assert.InDelta(t, 0.346410, f.SlopeSE*1e4, printed)
	assert.InDelta(t, 5.776184, f.Slope.Low*1e4, printed)
	assert.InDelta(t, 8.757149, f.Slope.High*1e4, printed)
	assert.InDelta(t, 1.0, f.Intercept, 1e-9)
	assert.InDelta(t, 1.423025, f.InterceptSE, printed)
	assert.InDelta(t, 1.161895, f.ResidualSD, printed)
	line := f.At(75000)
	assert.InDelta(t, 55.5, line.Value, 1e-9)
	// The half width for a new reading adds the residual sd to that of the line.
	assert.InDelta(
		t,
		7.904478,
		math.Hypot((line.High-line.Low)/2, 4.302653*f.ResidualSD),
		1e-5,
		"t(2) has seven digits",
	)
	x, ok := f.Reach(70)
	require.True(t, ok)
	assert.InDelta(t, 94954, x.Value, 0.5)
	assert.InDelta(t, 70, f.At(x.Low).High, 1e-9, "earliest is where the upper edge comes to 70")
	assert.InDelta(t, 70, f.At(x.High).Low, 1e-9)

	robust, err := trend.TheilSen(miles)
	require.NoError(t, err)
	assert.InDelta(t, 7.222222, robust.Slope.Value*1e4, printed)
}

func TestReachBehindTheCentre(t *testing.T) {
	f, err := trend.TheilSen(norris)
	require.NoError(t, err)
	x, ok := f.Reach(-50)
	require.True(t, ok)
	assert.Less(t, x.Low, x.Value)
	assert.Less(t, x.Value, x.High)
	assert.InDelta(t, -50, f.At(x.Low).High, 1e-9)
}

func TestTwoReadings(t *testing.T) {
	// 30 000 mi apart, 20 points apart, sd 2 each: difference by distance, errors in quadrature.
	f, err := trend.KnownErrors(points([]float64{10000, 40000}, []float64{10, 30}, 2))
	require.NoError(t, err)
	assert.InDelta(t, 6.666667, f.Slope.Value*1e4, printed)
	assert.InDelta(t, 0.942809, f.SlopeSE*1e4, printed)
	assert.InDelta(t, 1.847906, (f.Slope.High-f.Slope.Value)*1e4, 4e-5, "listed with 1.96 in place of 1.959964")
}

func TestWeightsFollowTheErrors(t *testing.T) {
	// The last point is so uncertain that the line is that of the first three.
	f, err := trend.LeastSquares(
		append(points([]float64{0, 10, 20}, []float64{0, 10, 20}, 1), trend.Point{X: 30, Y: figure(90, 1e6)}),
	)
	require.NoError(t, err)
	assert.InDelta(t, 1, f.Slope.Value, 1e-6)
}

// By hand: the residuals of (-1, 0), (0, d), (1, 0) from their line, the level d/3, are -d/3, 2d/3, -d/3, so that
// chi-square is 2/3 d²/sd².
func TestScatterBeyondTheErrorsWidensByTheBirgeRatio(t *testing.T) {
	for d, ratio := range map[float64]float64{6: 3 * math.Sqrt(2./3), 1: 0.5 * math.Sqrt(2./3)} {
		f, err := trend.ScaledErrors(points([]float64{-1, 0, 1}, []float64{0, d, 0}, 2))
		require.NoError(t, err)
		assert.InDelta(t, ratio, f.Birge, 1e-12, "float64 rounding")
		assert.InDelta(
			t,
			math.Max(1, ratio)*2/math.Sqrt2,
			f.SlopeSE,
			1e-12,
			"never less than the errors imply; float64 rounding",
		)
		assert.InDelta(t, 1.959963984540054*f.SlopeSE, f.Slope.High, 1e-12, "normal quantile; float64 rounding")
	}
	_, err := trend.ScaledErrors(miles)
	assert.ErrorIs(t, err, trend.ErrUnknownErrors)
	_, err = trend.ScaledErrors(points([]float64{1, 2}, []float64{1, 2}, 1))
	assert.ErrorIs(t, err, trend.ErrTooFew)
}

func TestFitsNeedPointsAtDifferentPlaces(t *testing.T) {
	same := points([]float64{5, 5, 5}, []float64{1, 2, 3}, 1)
	_, err := trend.LeastSquares(same)
	assert.ErrorIs(t, err, trend.ErrTooFew)
	_, err = trend.TheilSen(same)
	assert.ErrorIs(t, err, trend.ErrTooFew)
	_, err = trend.KnownErrors(same)
	assert.ErrorIs(t, err, trend.ErrTooFew)
	_, err = trend.LeastSquares(miles[:2])
	assert.ErrorIs(t, err, trend.ErrTooFew)
	_, err = trend.KnownErrors(miles)
	assert.ErrorIs(t, err, trend.ErrUnknownErrors)
}

func TestTheilSenOfOneLevelWithTies(t *testing.T) {
	f, err := trend.TheilSen(points([]float64{1, 1, 2}, []float64{5, 5, 5}, math.NaN()))
	require.NoError(t, err)
	assert.Zero(t, f.Slope)
}

// The promise of a 95 % interval, checked for seven readings with normal errors.
func TestIntervalsHoldTheTruth(t *testing.T) {
	const draws, slope = 3000, 0.7
	random := rand.New(rand.NewPCG(1950, 1968))
	held := map[string]int{}
	for range draws {
		var p []trend.Point
		for x := 0.0; x < 70; x += 10 {
			p = append(p, trend.Point{X: x, Y: figure(slope*x+3*random.NormFloat64(), 3)})
		}
		for name, fit := range map[string]func([]trend.Point) (trend.Fit, error){
			"least squares": trend.LeastSquares, "scaled errors": trend.ScaledErrors, "Theil-Sen": trend.TheilSen, "known errors": trend.KnownErrors,
		} {
			f, err := fit(p)
			require.NoError(t, err)
			if f.Slope.Low <= slope && slope <= f.Slope.High {
				held[name]++
			}
		}
	}
	// 3000 draws have a standard error of 0.004. Sen's ranks are whole numbers: with 21 slopes the interval can only be
	// somewhat too wide or too narrow.
	assert.InDelta(t, 0.95, float64(held["least squares"])/draws, 0.012)
	assert.InDelta(t, 0.95, float64(held["known errors"])/draws, 0.012)
	assert.InDelta(
		t,
		0.97,
		float64(held["scaled errors"])/draws,
		0.015,
		"somewhat too wide, as chance scatter widens but never narrows",
	)
	assert.InDelta(t, 0.95, float64(held["Theil-Sen"])/draws, 0.03)
}
