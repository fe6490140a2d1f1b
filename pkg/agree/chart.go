package agree

import (
	"fmt"
	"image/color"
	"io"
	"math"
	"slices"
	"strconv"

	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"valvegrade/internal/chart"
	"valvegrade/internal/ramp"
	"valvegrade/pkg/measure"
)

// WriteChart draws how the two raters agree, as "svg" or "png": the difference of their indices over the mean, with
// bias, limits of agreement and the intervals of all three (Bland & Altman 1986); without indices from both, the table
// of their grades.
func (p Pair) WriteChart(w io.Writer, format string) error {
	if p.Index == nil {
		return p.writeGrades(w, format)
	}
	return p.writeDifferences(w, format)
}

func (p Pair) writeDifferences(w io.Writer, format string) error {
	c := chart.New(
		fmt.Sprintf("%s against %s, %d photos", p.First, p.Second, p.Index.Limits.Pairs),
		"mean of the two deposit indices",
		fmt.Sprintf("index of %s - index of %s", p.First, p.Second),
	)
	points, err := plotter.NewScatter(p.Index.points())
	if err != nil {
		return fmt.Errorf("agree: %w", err)
	}
	points.GlyphStyle = draw.GlyphStyle{Color: ramp.Umber, Radius: 2.5, Shape: draw.CircleGlyph{}}

	left, right := slices.Min(p.Index.means()), slices.Max(p.Index.means())
	margin := math.Max(2, (right-left)/10)
	left, right = left-margin, right+3*margin // the right margin holds the labels
	for _, line := range p.Index.lines() {
		if math.IsNaN(line.Low) {
			continue
		}
		chart.Band(c, left, right, line.Low, line.High, color.RGBA{0xee, 0xf1, 0xf3, 0xff})
	}
	for _, line := range p.Index.lines() {
		chart.Line(c, plotter.XY{X: left, Y: line.Value}, plotter.XY{X: right, Y: line.Value}, line.style)
		chart.Text(
			c,
			plotter.XY{X: right - 2.6*margin, Y: line.Value},
			fmt.Sprintf("%s %+.1f", line.name, line.Value),
			chart.Ink,
		)
	}
	chart.Line(c, plotter.XY{X: left}, plotter.XY{X: right}, chart.Stroke(chart.Faint, 0.5))
	c.Add(points)
	c.X.Min, c.X.Max = left, right
	plain := chart.Ticks{Label: func(v float64) string { return strconv.FormatFloat(v, 'g', 6, 64) }}
	c.X.Tick.Marker, c.Y.Tick.Marker = plain, plain
	return chart.Write(w, c, 16*vg.Centimeter, 10*vg.Centimeter, format)
}

// chartLine is a horizontal line of the chart with its interval.
type chartLine struct {
	name string
	measure.Figure
	style draw.LineStyle
}

func (p IndexPair) lines() []chartLine {
	l := p.Limits
	dashed := chart.Stroke(chart.Ink, 0.8, 4, 3)
	return []chartLine{
		{"upper limit", l.Upper, dashed},
		{"bias", l.Bias, chart.Stroke(chart.Ink, 1.2)},
		{"lower limit", l.Lower, dashed},
	}
}

func (p IndexPair) means() []float64 {
	means := make([]float64, len(p.First))
	for i := range means {
		means[i] = (p.First[i] + p.Second[i]) / 2
	}
	return means
}

func (p IndexPair) points() plotter.XYs {
	points := make(plotter.XYs, len(p.First))
	for i, mean := range p.means() {
		points[i] = plotter.XY{X: mean, Y: p.First[i] - p.Second[i]}
	}
	return points
}
