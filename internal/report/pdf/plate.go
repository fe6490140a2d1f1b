package pdf

import (
	"fmt"

	"valvegrade/pkg/report"
)

// plate is a grade: its digit on its colour, and the words.
type plate struct {
	report.Plate
	words
}

const (
	plateSide   = 4.4
	plateIndent = plateSide + 1.8
)

func (b plate) natural() float64 { return plateIndent + b.words.natural() }

func (b plate) narrowest() float64 { return plateIndent + b.words.narrowest() }

func (b plate) height(width float64) float64 { return b.words.height(width - plateIndent) }

// draw keeps the words on the line of what stands beside the plate, so its square reaches a little above and below.
func (b plate) draw(s *sheet, x, y, width float64) {
	middle := y + b.lineHeight()/2
	s.fill(classColours[b.Class])
	s.stroke(soft)
	s.SetLineWidth(0.15)
	s.Rect(x, middle-plateSide/2, plateSide, plateSide, "FD")
	digit := style{9, 1, bold, readableOn(b.Class)}
	s.write(x+plateSide/2-widthOf(b.Digit, bold)*digit.mm()/2, middle+0.36*digit.mm(), b.Digit, digit)
	b.words.draw(s, x+plateIndent, y, width-plateIndent)
}

// steps are bars in the colours of the grades 0 to 4: the likelier a grade, the higher.
type steps []report.Step

const stepWide = 2.2

func (b steps) natural() float64       { return stepWide * float64(len(b)) }
func (b steps) narrowest() float64     { return b.natural() }
func (b steps) height(float64) float64 { return label.lineHeight() }

// draw is as high as a plate, beside which they stand.
func (b steps) draw(s *sheet, x, y, _ float64) {
	const least = 0.3
	base := y + label.lineHeight()/2 + plateSide/2
	s.stroke(soft)
	s.SetLineWidth(0.15)
	for n, step := range b {
		high := max(least, plateSide*step.Share)
		s.fill(classColours[step.Class])
		s.Rect(x+float64(n)*stepWide, base-high, stepWide-0.3, high, "FD")
	}
}

// key is a colour with its meaning.
type key struct {
	class string
	words
}

func (b key) natural() float64   { return 4 + b.words.natural() }
func (b key) narrowest() float64 { return 4 + b.words.narrowest() }

func (b key) draw(s *sheet, x, y, width float64) {
	s.fill(classColours[b.class])
	s.stroke(soft)
	s.SetLineWidth(0.15)
	s.Rect(x, y+(b.lineHeight()-2.4)/2, 2.4, 2.4, "FD")
	b.words.draw(s, x+4, y, width-4)
}

// cylinders is the engine from above: every cylinder with its intake valves, and its number below.
type cylinders struct {
	of     [][]report.Disc
	number style
}

const (
	cylinderSide = 15.0
	cylinderStep = 18.0
)

func (b cylinders) perRow(width float64) int {
	return max(1, int((width+cylinderStep-cylinderSide)/cylinderStep))
}

func (b cylinders) rowHeight() float64 { return cylinderSide + b.number.lineHeight() + 1 }

func (b cylinders) height(width float64) float64 {
	rows := (len(b.of) + b.perRow(width) - 1) / b.perRow(width)
	return float64(rows) * b.rowHeight()
}

func (b cylinders) draw(s *sheet, x, y, width float64) {
	for n, discs := range b.of {
		row, column := n/b.perRow(width), n%b.perRow(width)
		b.cylinder(s, n+1, discs, x+float64(column)*cylinderStep, y+float64(row)*b.rowHeight())
	}
}

func (b cylinders) cylinder(s *sheet, number int, discs []report.Disc, x, y float64) {
	const unit = cylinderSide / 60
	s.fill(bore)
	s.stroke(soft)
	s.SetLineWidth(0.3)
	s.Circle(x+30*unit, y+30*unit, 28.5*unit, "FD")
	s.SetLineWidth(0.15)
	for _, d := range discs {
		if d.Measured != nil {
			s.SetLineWidth(0.6)
			s.stroke(ink)
		}
		b.disc(s, d, x, y, unit)
		s.SetLineWidth(0.15)
		s.stroke(soft)
		if d.Measured != nil {
			b.disc(s, *d.Measured, x, y, unit)
		}
	}
	below := fmt.Sprint(number)
	at := x + 30*unit - widthOf(below, b.number.faces)*b.number.mm()/2
	s.write(at, y+cylinderSide+b.number.baseline(), below, b.number)
}

// disc draws a valve with its grade, in a cylinder that begins at x and y.
func (b cylinders) disc(s *sheet, d report.Disc, x, y, unit float64) {
	s.fill(classColours[d.Class])
	s.Circle(x+d.X*unit, y+d.Y*unit, d.R*unit, "FD")
	digit := style{d.Size * unit / millimetresPerPoint, 1, bold, readableOn(d.Class)}
	s.write(x+d.X*unit-widthOf(d.Digit, bold)*digit.mm()/2, y+d.Y*unit+0.36*digit.mm(), d.Digit, digit)
}
