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
	// ErrUnknownErrors is returned where a fit needs the SD of every point.
	ErrUnknownErrors = errors.New("not every point has a standard deviation above 0")
)

// Point is one reading. SD is the standard deviation of Y, NaN when not known.
type Point struct {
	X, Y, SD float64
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
	// Slope in units of Y for one of X. SlopeSE is NaN for Theil-Sen, whose interval comes from ranks.
	Slope   measure.Figure
	SlopeSE float64
	// Intercept is the line at X = 0; InterceptSE is NaN for Theil-Sen.
	Intercept, InterceptSE float64
	// ResidualSD is the standard deviation around the line, NaN where the uncertainty comes from elsewhere.
	ResidualSD float64
	// Birge is the ratio of the scatter around the line to what the points' own SDs explain, 1 on average; NaN unless
	// ScaledErrors made the fit.
	Birge float64
	// CentreX is where the line is known best, and LevelHalf the half width of its interval there.
	CentreX, LevelHalf float64
}

// At returns the line at x with the 95 % interval of the line, not of a new reading.
func (f Fit) At(x float64) measure.Figure {
	value := f.Intercept + f.Slope.Value*x
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

// Reach returns where a rising line comes to y, and where the upper and lower edge of its band do, earliest and latest
// (for equal half widths of the slope this is the interval of Fieller 1954). ok is false unless the whole interval of
// the slope lies above 0: then, and only then, both edges rise everywhere and the range is finite.
func (f Fit) Reach(y float64) (x, earliest, latest float64, ok bool) {
	if !(f.Slope.Low > 0) {
		return math.NaN(), math.NaN(), math.NaN(), false
	}
	x = (y - f.Intercept) / f.Slope.Value
	// Each edge stays within LevelHalf plus the uncertain part of the slope, so it crosses y no further away than this.
	far := (math.Abs(y-f.Intercept-f.Slope.Value*f.CentreX) + f.LevelHalf) / f.Slope.Low
	earliest = rising(f.CentreX-far, f.CentreX+far, y, func(x float64) float64 { return f.At(x).High })
	latest = rising(f.CentreX-far, f.CentreX+far, y, func(x float64) float64 { return f.At(x).Low })
	return x, earliest, latest, true
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
