package region

import (
	"errors"
	"math"
)

// Line is the centre line of a stem from its visible far end (X1, Y1) to where it meets the head (X2, Y2), with its
// mean width, all in photo pixels.
type Line struct {
	X1, Y1, X2, Y2 float64
	Width          float64
}

// ErrNoFit is returned when points do not determine a shape.
var ErrNoFit = errors.New("region: the points do not determine the shape")

// FitLine returns the line that minimises the sum of squared perpendicular distances (total least squares, Pearson
// 1901): a point on it, the points' mean, and its unit direction with X > 0, or X = 0 and Y > 0. Fewer than two points,
// points all in one place, or points without any preferred direction give ErrNoFit.
func FitLine(points []Point) (through, along Point, err error) {
	if len(points) < 2 {
		return Point{}, Point{}, ErrNoFit
	}
	through = mean(points)
	var s scatter
	for _, p := range points {
		s.add(p.minus(through))
	}
	along, ratio := s.axis()
	if !(ratio > 1) {
		return Point{}, Point{}, ErrNoFit
	}
	return through, along, nil
}

// scatter sums the second moments of points about the origin.
type scatter struct{ xx, xy, yy float64 }

func (s *scatter) add(p Point) {
	s.xx += p.X * p.X
	s.xy += p.X * p.Y
	s.yy += p.Y * p.Y
}

// addRun adds n points side by side, the first at p and each one to the right of the last.
func (s *scatter) addRun(p Point, n int) {
	count := float64(n)
	sum := count * (count - 1) / 2 // of the steps 0 to n-1
	squares := sum * (2*count - 1) / 3
	s.xx += count*p.X*p.X + 2*p.X*sum + squares
	s.xy += (count*p.X + sum) * p.Y
	s.yy += count * p.Y * p.Y
}

// axis returns the direction of greatest spread and how many times the spread along it exceeds the spread across:
// 1 for no preferred direction, +Inf for points on a line, NaN for points in one place.
func (s scatter) axis() (along Point, ratio float64) {
	sum, difference := s.xx+s.yy, math.Hypot(s.xx-s.yy, 2*s.xy)
	sin, cos := math.Sincos(0.5 * math.Atan2(2*s.xy, s.xx-s.yy))
	if cos < 1e-15 { // atan2/2 is within -90 to 90 degrees, so this is the vertical
		cos, sin = 0, 1
	}
	return Point{cos, sin}, math.Sqrt((sum + difference) / max(sum-difference, 0))
}
