package agree

import (
	"fmt"
	"image/color"
	"io"
	"strconv"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"

	"valvegrade/internal/chart"
	"valvegrade/internal/ramp"
	"valvegrade/pkg/grade"
)

// writeGrades draws the confusion table: a square for each pair of grades, the darker the more photos, with their
// number. Photos that both grade alike lie on the framed diagonal.
func (p Pair) writeGrades(w io.Writer, format string) error {
	c := chart.New(
		fmt.Sprintf("%s against %s, %d photos", p.First, p.Second, p.Photos),
		"grade by "+p.Second, "grade by "+p.First,
	)
	const half = 0.47 // of the square's side: a gap parts neighbours
	most := 0
	for _, row := range p.Table {
		for _, count := range row {
			most = max(most, count)
		}
	}
	for i, row := range p.Table {
		for j, count := range row {
			x, y := float64(j), float64(i)
			chart.Band(c, x-half, x+half, y-half, y+half, shade(count, most))
			if count > 0 {
				chart.Text(c, plotter.XY{X: x - 0.1, Y: y - 0.1}, strconv.Itoa(count), chart.Ink)
			}
		}
		frame(c, float64(i), half)
	}
	var ticks plot.ConstantTicks
	for value, name := range grade.Names() {
		ticks = append(ticks, plot.Tick{Value: float64(value), Label: fmt.Sprintf("%d %s", value, name)})
	}
	c.X.Tick.Marker, c.Y.Tick.Marker = ticks, ticks
	return chart.Write(w, c, 14*vg.Centimeter, 12*vg.Centimeter, format)
}

// shade mixes the ramp's copper into white by the share of the fullest square; figures stay readable on the darkest.
func shade(count, most int) color.RGBA {
	share := float64(count) / float64(most)
	mix := func(v uint8) uint8 { return uint8(0xf4 + share*(float64(v)-0xf4)) }
	return color.RGBA{mix(ramp.Copper.R), mix(ramp.Copper.G), mix(ramp.Copper.B), 0xff}
}

// frame draws the outline of a square of the diagonal.
func frame(c *plot.Plot, at, half float64) {
	corners := plotter.XYs{
		{X: at - half, Y: at - half},
		{X: at + half, Y: at - half},
		{X: at + half, Y: at + half},
		{X: at - half, Y: at + half},
	}
	for n, corner := range corners {
		chart.Line(c, corner, corners[(n+1)%len(corners)], chart.Stroke(chart.Ink, 0.8))
	}
}
