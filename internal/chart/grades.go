package chart

import (
	"fmt"
	"image/color"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"

	"valvegrade/internal/ramp"
	"valvegrade/pkg/grade"
)

// GradeBands lays the grades behind everything in a chart whose vertical axis is the index, pale enough for marks to
// stand out on the darkest.
func GradeBands(p *plot.Plot, left, right float64) {
	limits := append(append([]float64{0}, grade.Limits()...), 100)
	for value := range grade.Names() {
		Band(p, left, right, limits[value], limits[value+1], pale(ramp.Grade(value)))
	}
}

// GradeNames writes each grade's name on its lower limit, on top of what was added before; grade 0 is too narrow for
// words.
func GradeNames(p *plot.Plot, left float64, names []string) {
	for i, limit := range grade.Limits() {
		Text(p, plotter.XY{X: left, Y: limit}, fmt.Sprintf("%d %s", i+1, names[i+1]), Ink)
	}
}

// pale mixes a colour with white.
func pale(c color.RGBA) color.RGBA {
	const share = 0.42
	mix := func(v uint8) uint8 { return uint8(255 - share*(255-float64(v))) }
	return color.RGBA{mix(c.R), mix(c.G), mix(c.B), 0xff}
}
