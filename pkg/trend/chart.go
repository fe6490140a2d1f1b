package trend

import (
	"fmt"
	"image/color"
	"io"
	"math"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"valvegrade/internal/chart"
	"valvegrade/internal/number"
	"valvegrade/pkg/grade"
	"valvegrade/pkg/inspection"
)

// Size of a chart.
const (
	ChartWidth  = 16 * vg.Centimeter
	ChartHeight = 10 * vg.Centimeter
)

// ChartWords are the words of a chart, so that a report can write it in its own language.
type ChartWords struct {
	// Title stands above the chart, Odometer and Index along its axes, Cleaned where the valves were cleaned.
	Title, Odometer, Index, Cleaned string
	// Estimate takes the number of a grade.
	Estimate string
	// Grades are the names of grades 0 to 4.
	Grades []string
	// Number writes a whole number.
	Number func(v float64) string
}

// english are the words of charts that stand alone.
func (t *Trend) english(s Series) ChartWords {
	return ChartWords{
		Title: fmt.Sprintf(
			"%s, %s",
			t.Vehicle,
			s.Name(),
		), Odometer: fmt.Sprintf("odometer, %s", t.Unit), Index: "deposit index",
		Cleaned: "cleaned", Estimate: "estimate: grade %d", Grades: grade.Names(), Number: number.Thousands,
	}
}

// WriteChart draws the index of one series over the odometer as "svg" or "png", in English.
func (t *Trend) WriteChart(w io.Writer, s Series, format string) error {
	c, err := s.Chart(t.english(s))
	if err != nil {
		return err
	}
	return chart.Write(w, c, ChartWidth, ChartHeight, format)
}

// Chart shows the index over the odometer: readings with their intervals, the line of each run with its band,
// cleanings, grades as bands behind, and the forecast as a bar on the limit that it is about.
func (s Series) Chart(words ChartWords) (*plot.Plot, error) {
	c := chart.New(words.Title, words.Odometer, words.Index)
	left, right := s.span()
	chart.GradeBands(c, left, right)
	for i, l := range s.Lines {
		if i > 0 && l.Readings[0].Stage == inspection.After {
			addCleaning(c, l.Readings[0].Odometer, words.Cleaned)
		}
		if l.Growth != nil {
			addBand(c, l)
		}
		if l.Forecast != nil {
			addForecast(c, l, fmt.Sprintf(words.Estimate, l.Forecast.Grade))
		}
		if err := addReadings(c, l.Readings); err != nil {
			return nil, fmt.Errorf("trend: %w", err)
		}
	}
	chart.GradeNames(c, left, words.Grades)
	c.X.Min, c.X.Max, c.Y.Min, c.Y.Max = left, right, 0, 100
	c.X.Tick.Marker = chart.Ticks{Label: words.Number}
	c.Y.Tick.Marker = chart.Ticks{Label: words.Number}
	return c, nil
}

// span is the part of the odometer that the chart shows: all readings and forecasts, with room at both ends.
func (s Series) span() (left, right float64) {
	left, right = math.Inf(1), math.Inf(-1)
	for _, l := range s.Lines {
		for _, r := range l.Readings {
			left, right = math.Min(left, r.Odometer), math.Max(right, r.Odometer)
		}
		if l.Forecast != nil {
			right = math.Max(right, l.Forecast.Odometer.High)
		}
	}
	if left > right { // nothing was measured: an empty frame says so
		return 0, Per
	}
	margin := math.Max((right-left)/7, Per/10)
	return math.Max(0, left-margin), right + margin
}

// addCleaning marks where the valves were cleaned.
func addCleaning(c *plot.Plot, odometer float64, word string) {
	chart.Line(c, plotter.XY{X: odometer}, plotter.XY{X: odometer, Y: 100}, chart.Stroke(chart.Ink, 0.6, 1, 2))
	chart.Text(c, plotter.XY{X: odometer, Y: 95}, word, chart.Ink)
}

// addBand draws the fitted line with its interval over the readings that it was fitted to.
func addBand(c *plot.Plot, l Line) {
	from, to := l.Readings[0].Odometer, l.Readings[len(l.Readings)-1].Odometer
	const steps = 40
	edge := make(plotter.XYs, 2*(steps+1))
	within := func(v float64) float64 { return math.Max(0, math.Min(100, v)) }
	for i := range steps + 1 {
		x := from + (to-from)*float64(i)/steps
		line := l.Growth.At(x)
		edge[i] = plotter.XY{X: x, Y: within(line.High)}
		edge[len(edge)-1-i] = plotter.XY{X: x, Y: within(line.Low)}
	}
	band, err := plotter.NewPolygon(edge)
	if err != nil {
		panic(err) // finite corners are always a polygon
	}
	band.Color, band.LineStyle.Width = color.NRGBA{0xff, 0xff, 0xff, 0x90}, 0
	c.Add(band)
	chart.Line(
		c,
		plotter.XY{X: from, Y: l.Growth.At(from).Value},
		plotter.XY{X: to, Y: l.Growth.At(to).Value},
		chart.Stroke(chart.Ink, 1.2),
	)
}

// addForecast draws the line on to the limit, dashed, and the range in which it comes there.
func addForecast(c *plot.Plot, l Line, words string) {
	f, last := *l.Forecast, l.Readings[len(l.Readings)-1].Odometer
	chart.Line(
		c,
		plotter.XY{X: last, Y: l.Growth.At(last).Value},
		plotter.XY{X: f.Odometer.Value, Y: f.Index},
		chart.Stroke(chart.Ink, 0.8, 4, 3),
	)
	chart.Line(
		c,
		plotter.XY{X: f.Odometer.Low, Y: f.Index},
		plotter.XY{X: f.Odometer.High, Y: f.Index},
		chart.Stroke(chart.Ink, 2.5, 3, 2),
	)
	chart.Line(
		c,
		plotter.XY{X: f.Odometer.Value, Y: f.Index - 2},
		plotter.XY{X: f.Odometer.Value, Y: f.Index + 2},
		chart.Stroke(chart.Ink, 1.2),
	)
	chart.Text(c, plotter.XY{X: f.Odometer.Low, Y: f.Index + 2}, words, chart.Ink)
}

func addReadings(c *plot.Plot, readings []Reading) error {
	marks := withErrors{make(plotter.XYs, len(readings)), make(plotter.YErrors, len(readings))}
	for i, r := range readings {
		marks.XYs[i] = plotter.XY{X: r.Odometer, Y: r.Index.Value}
		marks.YErrors[i].Low, marks.YErrors[i].High = r.Index.Value-r.Index.Low, r.Index.High-r.Index.Value
	}
	bars, err := plotter.NewYErrorBars(marks)
	if err != nil {
		return err
	}
	bars.LineStyle = chart.Stroke(chart.Ink, 0.9)
	dots, err := plotter.NewScatter(marks.XYs)
	if err != nil {
		return err
	}
	dots.GlyphStyle = draw.GlyphStyle{Color: chart.Ink, Radius: 3, Shape: draw.CircleGlyph{}}
	c.Add(bars, dots)
	return nil
}

// withErrors are points with intervals as plotter takes them.
type withErrors struct {
	plotter.XYs
	plotter.YErrors
}
