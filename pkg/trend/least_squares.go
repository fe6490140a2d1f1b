package trend

import (
	"math"

	"valvegrade/pkg/measure"
)

// LeastSquares fits a line by least squares, weighted by 1/SD^2 when the interval of every point is known, else
// equally. It needs three points at two places at least. Standard errors come from the scatter around the line,
// intervals from Student's t with n - 2 degrees of freedom.
func LeastSquares(points []Point) (Fit, error) {
	m, sd, err := scatter(points)
	if err != nil {
		return Fit{}, err
	}
	return m.fit(SquaresFit, len(points), m.sxy/m.sxx, sd, measure.Student975(float64(len(points)-2))), nil
}

// ScaledErrors fits a line through three or more points whose intervals are all known, as KnownErrors does, and widens
// its uncertainty by the Birge ratio where the points scatter more than their intervals explain (Birge, Physical Review
// 40 (1932) 207; the scale factor of the Review of Particle Physics). Scatter that happens to be less makes nothing
// surer. So a few points need not show their errors anew, which would throw away what is known of them: with three,
// Student's quantile of one degree of freedom is 12.7.
func ScaledErrors(points []Point) (Fit, error) {
	f, err := KnownErrors(points)
	if err != nil {
		return Fit{}, err
	}
	_, ratio, err := scatter(points)
	if err != nil {
		return Fit{}, err
	}
	widened := max(1, ratio)
	f.Method, f.Birge, f.sides.widened = SquaresFit, ratio, widened
	f.SlopeSE, f.InterceptSE, f.LevelHalf = widened*f.SlopeSE, widened*f.InterceptSE, widened*f.LevelHalf
	f.Slope = f.sides.slope(f.Slope.Value)
	return f, nil
}

// scatter returns the moments of the points and the standard deviation, around their line, of a point of weight 1.
func scatter(points []Point) (moments, float64, error) {
	weights, _ := weightsOf(points)
	m := momentsOf(points, weights)
	if len(points) < 3 || m.sxx == 0 {
		return m, 0, ErrTooFew
	}
	slope, squares := m.sxy/m.sxx, 0.0
	for i, p := range points {
		r := (p.Y.Value - m.y) - slope*(p.X-m.x)
		squares += weights[i] * r * r
	}
	return m, math.Sqrt(squares / float64(len(points)-2)), nil
}

// KnownErrors fits a line through two or more points whose intervals are all known, weighted by 1/SD^2, and takes its
// uncertainty from these intervals alone. For two points the slope is their difference by their distance, with the
// standard error sqrt(SD1^2 + SD2^2) by the distance.
func KnownErrors(points []Point) (Fit, error) {
	weights, known := weightsOf(points)
	if !known {
		return Fit{}, ErrUnknownErrors
	}
	m := momentsOf(points, weights)
	if len(points) < 2 || m.sxx == 0 {
		return Fit{}, ErrTooFew
	}
	f := m.fit(TwoReadings, len(points), m.sxy/m.sxx, 1, measure.Normal975)
	f.ResidualSD = math.NaN()
	f.sides = &sides{points, weights, m, 1}
	f.Slope = f.sides.slope(f.Slope.Value)
	return f, nil
}

// weightsOf returns 1/SD^2 of each point and true, or equal weights and false when some SD is unknown or 0.
func weightsOf(points []Point) ([]float64, bool) {
	weights := make([]float64, len(points))
	known := true
	for i, p := range points {
		sd := p.Y.SD()
		weights[i] = 1 / (sd * sd)
		known = known && sd > 0
	}
	if !known {
		for i := range weights {
			weights[i] = 1
		}
	}
	return weights, known
}

// moments are weighted sums about the weighted means; centring keeps all digits where x is far from 0.
type moments struct {
	weight, x, y, sxx, sxy float64
}

func momentsOf(points []Point, weights []float64) moments {
	var m moments
	for i, p := range points {
		m.weight += weights[i]
		m.x += weights[i] * p.X
		m.y += weights[i] * p.Y.Value
	}
	m.x, m.y = m.x/m.weight, m.y/m.weight
	for i, p := range points {
		m.sxx += weights[i] * (p.X - m.x) * (p.X - m.x)
		m.sxy += weights[i] * (p.X - m.x) * (p.Y.Value - m.y)
	}
	return m
}

// fit writes the line down. sd is the standard deviation of a point of weight 1.
func (m moments) fit(method Method, n int, slope, sd, quantile float64) Fit {
	se := sd / math.Sqrt(m.sxx)
	return Fit{
		Method: method, Points: n, SlopeSE: se,
		Slope:     measure.Figure{Value: slope, Low: slope - quantile*se, High: slope + quantile*se},
		Intercept: m.y - slope*m.x, InterceptSE: sd * math.Sqrt(1/m.weight+m.x*m.x/m.sxx),
		ResidualSD: sd, Birge: math.NaN(), CentreX: m.x, LevelHalf: quantile * sd / math.Sqrt(m.weight),
	}
}
