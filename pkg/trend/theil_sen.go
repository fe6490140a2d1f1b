package trend

import (
	"math"
	"slices"

	"valvegrade/internal/number"
	"valvegrade/pkg/measure"
)

// TheilSen fits a line by the median of the slopes between all pairs of points (Theil 1950), which up to 29 % of wild
// points do not move far, with the rank interval of Sen (1968), ties counted. The line passes through the medians of x
// and y. It needs three points at two places at least; their intervals are not used.
//
// The level's half width is that of a median, from the median absolute deviation of the residuals: 1.96 1.2533 1.4826
// MAD / sqrt(n), constants of the normal distribution.
func TheilSen(points []Point) (Fit, error) {
	slopes := pairSlopes(points)
	if len(points) < 3 || len(slopes) == 0 {
		return Fit{}, ErrTooFew
	}
	slope := number.Median(slopes)
	x := number.Median(column(points, func(p Point) float64 { return p.X }))
	y := number.Median(column(points, func(p Point) float64 { return p.Y.Value }))
	low, high := senInterval(slopes, points)
	deviation := number.Median(column(points, func(p Point) float64 { return math.Abs(p.Y.Value - y - slope*(p.X-x)) }))
	nan := math.NaN()
	return Fit{
		Method: TheilSenFit, Points: len(points), SlopeSE: nan,
		Slope:     measure.Figure{Value: slope, Low: low, High: high},
		Intercept: y - slope*x, InterceptSE: nan, ResidualSD: nan, Birge: nan,
		CentreX: x, LevelHalf: measure.Normal975 * math.Sqrt(math.Pi/2) * 1.4826 * deviation / math.Sqrt(float64(len(points))),
	}, nil
}

// pairSlopes returns the slopes of all pairs at different places, ascending.
func pairSlopes(points []Point) []float64 {
	var slopes []float64
	for i, p := range points {
		for _, q := range points[i+1:] {
			if p.X != q.X {
				slopes = append(slopes, (q.Y.Value-p.Y.Value)/(q.X-p.X))
			}
		}
	}
	slices.Sort(slopes)
	return slopes
}

// senInterval picks the slopes whose ranks Kendall's statistic would not reject at 5 %, in its normal approximation.
// With few points these are the first and the last slope.
func senInterval(slopes []float64, points []Point) (low, high float64) {
	n := float64(len(points))
	variance := n * (n - 1) * (2*n + 5)
	for _, values := range [][]float64{
		column(points, func(p Point) float64 { return p.X }), column(points, func(p Point) float64 { return p.Y.Value }),
	} {
		for _, size := range tieSizes(values) {
			variance -= size * (size - 1) * (2*size + 5)
		}
	}
	reach := measure.Normal975 * math.Sqrt(max(0, variance)/18) // below 0 where one axis has ties and the other nothing else
	count := float64(len(slopes))
	first := max(int(math.RoundToEven((count-reach)/2))-1, 0)
	last := min(int(math.RoundToEven((count+reach)/2)), len(slopes)-1)
	return slopes[first], slopes[last]
}

// tieSizes returns how often each value stands among the values.
func tieSizes(values []float64) map[float64]float64 {
	sizes := map[float64]float64{}
	for _, v := range values {
		sizes[v]++
	}
	return sizes
}

func column(points []Point, value func(Point) float64) []float64 {
	values := make([]float64, len(points))
	for i, p := range points {
		values[i] = value(p)
	}
	return values
}
