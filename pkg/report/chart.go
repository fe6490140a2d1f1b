package report

import (
	"fmt"
	"image/color"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"valvegrade/internal/chart"
)

// Size of the engine's chart.
const (
	EngineChartWidth  = 16 * vg.Centimeter
	EngineChartHeight = 8 * vg.Centimeter
)

// roomForNames keeps the names of the grades clear of the first cylinder, as a share of the room that the cylinders
// take.
const roomForNames = 0.15

// EngineChart shows the index of every cylinder with its 95 % interval, visits side by side: filled marks for the only
// or the last visit, hollow ones for the state before a cleaning. The grades lie behind as bands.
func (m *Model) EngineChart() *plot.Plot {
	c := chart.New("", m.Texts.Cylinder, m.Texts.Index)
	left, right := 0.5-roomForNames*float64(len(m.Cylinders)), float64(len(m.Cylinders))+0.5
	chart.GradeBands(c, left, right)
	chart.GradeNames(c, left, m.Texts.GradeNames())
	for visit := range m.Visits {
		m.addVisit(c, visit)
	}
	c.X.Min, c.X.Max, c.Y.Min, c.Y.Max = left, right, 0, 100
	c.X.Tick.Marker, c.Y.Tick.Marker = m.cylinderTicks(), chart.Ticks{
		Label: func(v float64) string { return m.Locale.Number(v, 0) },
	}
	return c
}

// addVisit draws one mark per cylinder; two visits stand a little apart.
func (m *Model) addVisit(c *plot.Plot, visit int) {
	shift := 0.0
	if len(m.Visits) == 2 {
		shift = [...]float64{-0.12, 0.12}[visit]
	}
	before := visit < len(m.Visits)-1
	for n, cylinder := range m.Cylinders {
		r := cylinder.Readings[visit]
		if r.Grade == nil {
			continue
		}
		x := float64(n+1) + shift
		chart.Line(c, plotter.XY{X: x, Y: r.Index.Low}, plotter.XY{X: x, Y: r.Index.High}, chart.Stroke(chart.Ink, 1.2))
		addMark(c, plotter.XY{X: x, Y: r.Index.Value}, before)
	}
}

func addMark(c *plot.Plot, at plotter.XY, hollow bool) {
	dot, err := plotter.NewScatter(plotter.XYs{at})
	if err != nil {
		panic(err) // one finite point
	}
	dot.GlyphStyle = draw.GlyphStyle{Color: chart.Ink, Radius: 4, Shape: draw.CircleGlyph{}}
	c.Add(dot)
	if hollow {
		inner := *dot
		inner.GlyphStyle.Color, inner.GlyphStyle.Radius = color.White, 2.6
		c.Add(&inner)
	}
}

func (m *Model) cylinderTicks() plot.ConstantTicks {
	ticks := make(plot.ConstantTicks, len(m.Cylinders))
	for i, cylinder := range m.Cylinders {
		ticks[i] = plot.Tick{Value: float64(i + 1), Label: fmt.Sprint(cylinder.Number)}
	}
	return ticks
}
