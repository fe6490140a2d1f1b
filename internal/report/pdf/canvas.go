package pdf

import (
	"image"
	"image/color"
	"math"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// chart is drawn as lines and letters, not as a picture of them. wide and high are its own size; it is made smaller to
// fit, and to be no higher than highest.
type chart struct {
	*plot.Plot
	wide, high vg.Length
	highest    float64
}

func (b chart) scale(width float64) float64 {
	return min(millimetresPerPoint, width/b.wide.Points(), b.highest/b.high.Points())
}

func (b chart) height(width float64) float64 { return b.high.Points() * b.scale(width) }

func (b chart) draw(s *sheet, x, y, width float64) {
	scale := b.scale(width)
	c := &canvas{sheet: s, states: []state{{
		place: affine{scale, 0, 0, -scale, x, y + b.height(width)}, scale: scale, colour: color.Black,
	}}}
	b.Draw(draw.NewCanvas(c, b.wide, b.high))
	s.SetDashPattern(nil, 0)
	s.SetAlpha(1, "Normal")
}

// yielding is a chart with the words below it, and what comes after, for a page that has not room enough: the chart is made
// smaller, down to least, so that all of it stands there, or else the chart at least.
type yielding struct {
	chart
	below stack
	after []block
	least float64
}

// within is what goes on a page of which so much is left.
func (b yielding) within(width, room float64) []block {
	for _, others := range []float64{b.below.height(width) + stack(b.after).height(width), b.below.height(width)} {
		if free := room - others; free >= b.least {
			b.highest = min(b.highest, free)
			break
		}
	}
	return append([]block{append(stack{b.chart}, b.below...)}, b.after...)
}

// affine takes a point of the chart, in points from its lower left corner, to the page: x' = ax + cy + e, y' = bx + dy
// + f.
type affine struct{ a, b, c, d, e, f float64 }

func (t affine) at(p vg.Point) (x, y float64) {
	px, py := p.X.Points(), p.Y.Points()
	return t.a*px + t.c*py + t.e, t.b*px + t.d*py + t.f
}

// after is what comes of doing u first and then t.
func (t affine) after(u affine) affine {
	return affine{
		t.a*u.a + t.c*u.b, t.b*u.a + t.d*u.b, t.a*u.c + t.c*u.d, t.b*u.c + t.d*u.d,
		t.a*u.e + t.c*u.f + t.e, t.b*u.e + t.d*u.f + t.f,
	}
}

// canvas is what package plot draws on.
type canvas struct {
	*sheet
	states []state
}

type state struct {
	place  affine
	scale  float64 // millimetres for a point
	width  float64
	dashes []float64
	offset float64
	colour color.Color
}

var _ vg.Canvas = (*canvas)(nil)

func (c *canvas) now() *state { return &c.states[len(c.states)-1] }

func (c *canvas) Push() { c.states = append(c.states, *c.now()) }
func (c *canvas) Pop()  { c.states = c.states[:len(c.states)-1] }

func (c *canvas) SetLineWidth(w vg.Length) { c.now().width = w.Points() * c.now().scale }
func (c *canvas) SetColor(to color.Color) {
	if to == nil {
		to = color.Black // as the interface asks
	}
	c.now().colour = to
}

func (c *canvas) SetLineDash(pattern []vg.Length, offset vg.Length) {
	c.now().dashes = nil
	for _, d := range pattern {
		c.now().dashes = append(c.now().dashes, d.Points()*c.now().scale)
	}
	c.now().offset = offset.Points() * c.now().scale
}

func (c *canvas) Rotate(radians float64) {
	sin, cos := math.Sincos(radians)
	c.now().place = c.now().place.after(affine{cos, sin, -sin, cos, 0, 0})
}

func (c *canvas) Translate(to vg.Point) {
	c.now().place = c.now().place.after(affine{1, 0, 0, 1, to.X.Points(), to.Y.Points()})
}

func (c *canvas) Scale(x, y float64) {
	c.now().place = c.now().place.after(affine{x, 0, 0, y, 0, 0})
}

func (c *canvas) Stroke(p vg.Path) {
	if c.now().width <= 0 {
		return
	}
	solid := c.paint()
	c.stroke(solid)
	c.sheet.SetLineWidth(c.now().width)
	c.SetDashPattern(c.now().dashes, c.now().offset)
	c.trace(p)
	c.DrawPath("D")
}

func (c *canvas) Fill(p vg.Path) {
	c.fill(c.paint())
	c.trace(p)
	c.DrawPath("F")
}

// paint sets the opacity of the current colour and returns the colour without it.
func (c *canvas) paint() color.RGBA {
	own := color.NRGBAModel.Convert(c.now().colour).(color.NRGBA)
	c.SetAlpha(float64(own.A)/255, "Normal")
	return color.RGBA{own.R, own.G, own.B, 0xff}
}

func (c *canvas) trace(p vg.Path) {
	for _, step := range p {
		switch step.Type {
		case vg.MoveComp:
			c.MoveTo(c.now().place.at(step.Pos))
		case vg.LineComp:
			c.LineTo(c.now().place.at(step.Pos))
		case vg.ArcComp:
			c.arc(step)
		case vg.CurveComp:
			c.curve(step)
		case vg.CloseComp:
			c.ClosePath()
		}
	}
}

// arc goes round in short straight steps: the marks of our charts are a millimetre or two wide.
func (c *canvas) arc(step vg.PathComp) {
	const steps = 36
	for i := range steps + 1 {
		sin, cos := math.Sincos(step.Start + step.Angle*float64(i)/steps)
		c.LineTo(
			c.now().place.at(
				vg.Point{X: step.Pos.X + step.Radius*vg.Length(cos), Y: step.Pos.Y + step.Radius*vg.Length(sin)},
			),
		)
	}
}

func (c *canvas) curve(step vg.PathComp) {
	x, y := c.now().place.at(step.Pos)
	first := step.Control[0]
	last := step.Control[len(step.Control)-1] // one control point is both: near enough to a quadratic curve
	x0, y0 := c.now().place.at(first)
	x1, y1 := c.now().place.at(last)
	c.CurveBezierCubicTo(x0, y0, x1, y1, x, y)
}

func (c *canvas) FillString(f font.Face, at vg.Point, text string) {
	text = prepare(text, map[rune]bool{}) // the words of charts stand in the rest of the report, too
	place := c.now().place
	x, y := place.at(at)
	solid := c.paint()
	in := style{f.Font.Size.Points() * c.now().scale / millimetresPerPoint, 1, regular, solid}
	c.TransformBegin()
	c.TransformRotate(math.Atan2(-place.b, place.a)*180/math.Pi, x, y)
	c.write(x, y, visual(text, directionOf(text)), in)
	c.TransformEnd()
}

// DrawImage is not used by any of our charts.
func (c *canvas) DrawImage(vg.Rectangle, image.Image) {
	panic("pdf: charts hold no pictures")
}
