package trend

import (
	"math"

	"valvegrade/pkg/measure"
)

// sides are the points of a line with their own intervals, which may be longer to one side. Slope and level are sums of
// the points with factors, and their half widths those of the points, each side added in squares: the upper limit of a
// sum comes from the upper limits of points with a factor above 0, and the lower ones of the others (MOVER for linear
// functions: Zou, Huang & Zhang, Computational Statistics & Data Analysis 53 (2009) 1080). So a reading of 18 (0 to 54)
// leaves room for far more before a later one, and little for less; and a line through two readings has their own
// intervals at both.
type sides struct {
	points  []Point
	weights []float64
	moments
	// widened is what the half widths are multiplied with, 1 or more.
	widened float64
}

// slope is the interval around the slope of the points.
func (s *sides) slope(value float64) measure.Figure {
	return s.around(value, func(i int) float64 { return s.weights[i] * (s.points[i].X - s.x) / s.sxx })
}

// level is the interval around the line at x.
func (s *sides) level(x, value float64) measure.Figure {
	return s.around(value, func(i int) float64 {
		return s.weights[i] * (1/s.weight + (x-s.x)*(s.points[i].X-s.x)/s.sxx)
	})
}

// around puts the interval around a sum of the points, each multiplied with its factor.
func (s *sides) around(sum float64, factor func(i int) float64) measure.Figure {
	below, above := 0.0, 0.0
	for i, p := range s.points {
		f := factor(i)
		down, up := f*(p.Y.Value-p.Y.Low), f*(p.Y.High-p.Y.Value)
		if f < 0 {
			down, up = up, down
		}
		below, above = below+down*down, above+up*up
	}
	return measure.Figure{Value: sum, Low: sum - s.widened*math.Sqrt(below), High: sum + s.widened*math.Sqrt(above)}
}
