package trend

import (
	"errors"
	"math"

	"valvegrade/pkg/measure"
)

// Why points give no line.
var (
	// ErrTooFew is returned for fewer points than a fit needs, or when all stand at one place.
	ErrTooFew = errors.New("too few points at different places for a line")
	// ErrUnknownErrors is returned where a fit needs the interval of every point.
	ErrUnknownErrors = errors.New("not every point has an interval wider than 0")
)

// Point is one reading. Where nothing is known of its error the interval of Y has no width, or its limits are NaN.
type Point struct {
	X float64
	Y measure.Figure
}

// Method is a way of fitting a line.
type Method string

// The methods.
const (
	TwoReadings Method = "two-readings"
	SquaresFit  Method = "least-squares"
	TheilSenFit Method = "theil-sen"
)

// Fit is a straight line with its 95 % uncertainty, in the units of the points.
type Fit struct {
	Method Method
	Points int
	// Slope in units of Y for one of X. Its interval is as lopsided as those of the points, where they are known.
	// SlopeSE is NaN for Theil-Sen, whose interval comes from ranks.
	Slope   measure.Figure
	SlopeSE float64
	// Intercept is the line at X = 0; InterceptSE is NaN for Theil-Sen.
	Intercept, InterceptSE float64
	// ResidualSD is the standard deviation around the line, NaN where the uncertainty comes from elsewhere.
	ResidualSD float64
	// Birge is the ratio of the scatter around the line to what the points' own errors explain, 1 on average; NaN
	// unless ScaledErrors made the fit.
	Birge float64
	// CentreX is where the line is known best, and LevelHalf the half width of its interval there, were the errors of
	// the points alike to both sides.
	CentreX, LevelHalf float64
	// sides are the errors that the points are known to have, nil where they are not.
	sides *sides
}

// At returns the line at x with the 95 % interval of the line, not of a new reading.
func (f Fit) At(x float64) measure.Figure {
	value := f.Intercept + f.Slope.Value*x
	if f.sides != nil {
		return f.sides.level(x, value)
	}
	return measure.Figure{Value: value, Low: value - f.lower(x-f.CentreX), High: value + f.upper(x-f.CentreX)}
}

// upper and lower are the half widths of the band at a distance from the centre. Ahead of the centre the upper edge
// comes from the steepest slope, behind it from the flattest.
func (f Fit) upper(u float64) float64 {
	if u >= 0 {
		return math.Hypot(f.LevelHalf, (f.Slope.High-f.Slope.Value)*u)
	}
	return math.Hypot(f.LevelHalf, (f.Slope.Value-f.Slope.Low)*u)
}

func (f Fit) lower(u float64) float64 {
	if u >= 0 {
		return math.Hypot(f.LevelHalf, (f.Slope.Value-f.Slope.Low)*u)
	}
	return math.Hypot(f.LevelHalf, (f.Slope.High-f.Slope.Value)*u)
}

// Reach returns where a rising line comes to y; the limits are where the upper and the lower edge of its band do (for
// equal half widths this is the interval of Fieller 1954). ok is false unless the whole interval of the slope lies
// above 0: then, and only then, both edges rise everywhere and the range is finite.
func (f Fit) Reach(y float64) (x measure.Figure, ok bool) {
	if !(f.Slope.Low > 0) {
		return measure.Unmeasured(), false
	}
	// Each edge begins within the band at the centre and is nowhere flatter than the slope's lower limit, so it crosses
	// y no further away than this.
	centre := f.At(f.CentreX)
	far := max(math.Abs(y-centre.Low), math.Abs(y-centre.High)) / f.Slope.Low
	return measure.Figure{
		Value: (y - f.Intercept) / f.Slope.Value,
		Low:   rising(f.CentreX-far, f.CentreX+far, y, func(x float64) float64 { return f.At(x).High }),
		High:  rising(f.CentreX-far, f.CentreX+far, y, func(x float64) float64 { return f.At(x).Low }),
	}, true
}

// rising returns where a rising function comes to y between two ends, by bisection.
func rising(left, right, y float64, f func(float64) float64) float64 {
	for range 200 { // far beyond what a float64 can resolve
		middle := left + (right-left)/2
		if f(middle) < y {
			left = middle
		} else {
			right = middle
		}
	}
	return right
}
