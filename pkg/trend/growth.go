package trend

import (
	"fmt"

	"valvegrade/pkg/grade"
	"valvegrade/pkg/measure"
)

// fewestForSlopes readings without known errors are needed for the median of slopes: with five or less even the whole
// range of slopes is hardly a 95 % interval, so it would not be robust; from six on Sen's interval leaves out slopes at
// both ends.
const fewestForSlopes = 6

// Growth is how fast the index rises along a line.
type Growth struct {
	Fit
	// Figure is growth in index points per 10 000 mi or km.
	measure.Figure
	Verdict Verdict
}

// Verdict says in words whether the index moved.
type Verdict string

// The verdicts: the 95 % interval of growth lies above 0, below it, or holds it.
const (
	Growing            Verdict = "growing"
	Falling            Verdict = "falling"
	NotDistinguishable Verdict = "not distinguishable"
)

// growthOf fits the line that the readings allow. It returns nil for a single reading, and for two of which nothing
// about their errors is known. Where the errors are known they count, however many readings there are: a fit that finds
// them anew from the scatter of a few readings knows less than two readings with their intervals.
func growthOf(points []Point) *Growth {
	fit, err := lineOf(points)
	if err != nil {
		return nil
	}
	g := &Growth{Fit: fit, Figure: fit.Slope.Scaled(Per), Verdict: NotDistinguishable}
	switch {
	case g.Low > 0:
		g.Verdict = Growing
	case g.High < 0:
		g.Verdict = Falling
	}
	return g
}

func lineOf(points []Point) (Fit, error) {
	_, known := weightsOf(points)
	switch n := len(points); {
	case n < 3:
		return KnownErrors(points)
	case known:
		return ScaledErrors(points)
	case n < fewestForSlopes:
		return LeastSquares(points)
	default:
		return TheilSen(points)
	}
}

// Forecast is where the line comes to a grade: an estimate, never a promise, since it assumes that the engine is driven
// and serviced as before.
type Forecast struct {
	// Grade is reached where the index comes to Index.
	Grade int
	Index float64
	// Odometer is the estimate with its 95 % range; no part of it lies before the last reading.
	Odometer measure.Figure
}

// contradiction is the Birge ratio above which readings are said to contradict each other: chance takes that of three
// readings beyond it once in twenty times (the normal quantile), that of more less often.
var contradiction = measure.Normal975

const (
	// forecastGrade is the grade at which a cleaning is commonly planned.
	forecastGrade = 3
	// fewestForForecast: two readings give a slope but no sign of whether growth is steady.
	fewestForForecast = 3
	// farthestAhead is how many times the distance covered by the readings a forecast may look ahead.
	farthestAhead = 2
)

// OneReading is what is missing of a line that has no more, as long as it is below the grade of the forecast.
const OneReading = "one reading: growth needs a second inspection at a higher odometer reading"

// fit makes a line of readings, with growth and forecast or the sentence on what is missing. A line that a cleaning
// ended (running is false) has no future to forecast.
func fit(readings []Reading, running bool) Line {
	points := make([]Point, len(readings))
	for i, r := range readings {
		points[i] = Point{r.Odometer, r.Index}
	}
	l := Line{Readings: readings, Growth: growthOf(points)}
	if !running {
		l.Missing = "ended by a cleaning"
		return l
	}
	l.Forecast, l.Missing = forecast(l)
	return l
}

// forecast returns where grade 3 is reached, or the sentence on why it does not say.
func forecast(l Line) (*Forecast, string) {
	limit := grade.Limits()[forecastGrade-1]
	n := len(l.Readings)
	last := l.Readings[n-1]
	grows := l.Growth != nil && l.Growth.Verdict == Growing
	switch {
	case last.Index.Value >= limit:
		return nil, fmt.Sprintf("grade %d is reached at the last reading", forecastGrade)
	case n == 1:
		return nil, OneReading
	case l.Growth == nil:
		return nil, "the readings carry no intervals: growth needs a third inspection"
	case l.Growth.Verdict == Falling:
		return nil, "the index falls although no cleaning is on record: check the photos, or add the inspection after the cleaning, with stage: after"
	case n < fewestForForecast:
		return nil, "two readings: a forecast needs a third inspection at a higher odometer reading"
	case !grows && l.Growth.Birge > contradiction:
		return nil, "growth is not sure: the readings contradict each other by more than their intervals allow; check the photos"
	case !grows:
		return nil, "growth is not sure: a forecast needs inspections further apart"
	}
	reached, _ := l.Growth.Reach(limit) // growing means that it is reached
	if reached.Value-last.Odometer > farthestAhead*(last.Odometer-l.Readings[0].Odometer) {
		return nil, fmt.Sprintf(
			"grade %d lies further ahead than %d times the distance between the readings: too far to tell",
			forecastGrade,
			farthestAhead,
		)
	}
	return &Forecast{forecastGrade, limit, measure.Figure{
		Value: max(reached.Value, last.Odometer),
		Low:   max(reached.Low, last.Odometer),
		High:  max(reached.High, last.Odometer),
	}}, ""
}
