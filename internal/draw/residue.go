package draw

import (
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"math"
	"path/filepath"

	"valvegrade/pkg/compare"
	"valvegrade/pkg/deposit"
	"valvegrade/pkg/measure"
	"valvegrade/pkg/unroll"
)

// Sizes of the residue map in pixels.
const (
	residueWidth  = 960
	residueMargin = 24
	dialRadius    = 190
	stemHeight    = 80
	stemWidth     = 240
	// hourGap is how far outside the rim the hours stand; names stand above them, the stem below.
	hourGap  = 16
	dialRoom = 2*dialRadius + 5*hourGap
)

// ResidueMap draws a comparison: the valve head-on before and after, with the stem at 12 and unrolled below, in the
// colours of the deposit classes. Only what both photos show is coloured; what one of them shows is hatched. Without
// maps only what stands above is left.
func ResidueMap(c *compare.Comparison, words ResidueWords) *image.RGBA {
	s := &sheet{
		margin: residueMargin, width: residueWidth,
		large:  newPen(bold(), 26, black),
		strong: newPen(bold(), 17, black),
		body:   newPen(regular(), 17, black),
		small:  newPen(regular(), 14, pencil),
	}
	headed := words.Title+words.Outcome != ""
	outcome, cautions := s.body.wrap(words.Outcome, residueWidth-2*residueMargin), s.cautions(words)
	height := residueMargin
	if headed {
		height += s.large.line + len(outcome)*s.body.line + len(cautions)*s.small.line + residueMargin
	}
	if c.Residue != nil {
		height += dialRoom + stemHeight + 4*s.small.line + residueMargin
	}
	s.image = image.NewRGBA(image.Rect(0, 0, residueWidth, height))
	draw.Draw(s.image, s.image.Rect, image.NewUniform(white), image.Point{}, draw.Src)

	s.y = residueMargin
	if headed {
		s.above(words.Title, outcome, cautions)
	}
	if c.Residue != nil {
		s.state(
			residueWidth/4,
			c,
			state{
				words,
				words.Before,
				c.Before.Photo,
				c.Residue.Before,
				func(p compare.Part) measure.Shares { return p.Before },
			},
		)
		s.state(
			3*residueWidth/4,
			c,
			state{
				words,
				words.After,
				c.After.Photo,
				c.Residue.After,
				func(p compare.Part) measure.Shares { return p.After },
			},
		)
		s.y += dialRoom + stemHeight + 5*s.small.line/2
		s.residueLegend(words)
	}
	return s.image
}

// cautions breaks the cautions into lines.
func (s *sheet) cautions(words ResidueWords) []string {
	var lines []string
	for _, caution := range words.Cautions {
		lines = append(lines, s.small.wrap(caution, residueWidth-2*residueMargin)...)
	}
	return lines
}

// above writes what the comparison came to, and below it what speaks for caution.
func (s *sheet) above(title string, outcome, cautions []string) {
	s.large.write(s.image, s.margin, s.y+s.large.ascent, title)
	s.y += s.large.line
	for _, line := range outcome {
		s.body.write(s.image, s.margin, s.y+s.body.ascent, line)
		s.y += s.body.line
	}
	for _, line := range cautions {
		s.small.write(s.image, s.margin, s.y+s.small.ascent, line)
		s.y += s.small.line
	}
	s.y += residueMargin
}

// state is one side of a comparison.
type state struct {
	words       ResidueWords
	name, photo string
	classes     []uint8
	shares      func(compare.Part) measure.Shares
}

// state draws one of the two states around the column x.
func (s *sheet) state(x int, c *compare.Comparison, one state) {
	centre := image.Pt(x, s.y+3*hourGap+dialRadius)
	s.dial(centre, one.classes)
	if c.Clock != nil {
		s.hours(centre)
	}
	top := centre.Y + dialRadius + 2*hourGap
	s.unrolledStem(image.Rect(x-stemWidth/2, top, x+stemWidth/2, top+stemHeight), one.classes, one.words.Stem)
	left := x - dialRadius - hourGap
	left = s.strong.write(s.image, left, s.y+s.strong.ascent, one.name) + s.margin/2
	s.small.write(s.image, left, s.y+s.strong.ascent, s.small.fit(filepath.Base(one.photo), x+dialRadius-left))
	base := top + stemHeight + s.small.line
	text := one.words.Index
	for _, zone := range zones {
		text += "   " + one.words.Zones[zone] + " " + one.words.Number(one.shares(c.Zones[zone]).Index())
	}
	s.small.write(s.image, x-s.small.width(text)/2, base, text)
}

// dial draws the head as seen along the stem, 12 at the top, with a line around it.
func (s *sheet) dial(centre image.Point, classes []uint8) {
	box := image.Rect(-dialRadius-1, -dialRadius-1, dialRadius+1, dialRadius+1)
	s.disc(centre, dialRadius+1, fineLines)
	s.paintMap(centre, box, func(x, y float64) (uint8, bool) {
		radius := math.Sqrt(x*x+y*y) / dialRadius
		if radius >= 1 {
			return 0, false
		}
		angle := math.Atan2(x, -y)*180/math.Pi + 360
		return classes[int(radius*unroll.HeadRows)*unroll.Columns+int(angle)%unroll.Columns], true
	})
}

// disc fills a circle.
func (s *sheet) disc(centre image.Point, radius int, c color.RGBA) {
	for y := -radius; y < radius; y++ {
		for x := -radius; x < radius; x++ {
			if math.Hypot(float64(x)+0.5, float64(y)+0.5) < float64(radius) {
				s.image.SetRGBA(centre.X+x, centre.Y+y, c)
			}
		}
	}
}

// unrolledStem draws the half of the stem that can be seen, from 9 on the left to 3 on the right, its foot at the top.
func (s *sheet) unrolledStem(box image.Rectangle, classes []uint8, name string) {
	s.fill(box.Inset(-1), fineLines)
	s.paintMap(box.Min, image.Rectangle{Max: box.Size()}, func(x, y float64) (uint8, bool) {
		column := unroll.Columns*3/4 - 1 - int(x/stemWidth*unroll.Columns/2)
		row := unroll.HeadRows + int(y/stemHeight*unroll.StemRows)
		return classes[row*unroll.Columns+column], true
	})
	for _, label := range []struct {
		text string
		x    int
	}{{"9", box.Min.X - hourGap}, {name, box.Min.X - 3*hourGap/2 - s.small.width(name)}, {"3", box.Max.X + hourGap/2}} {
		s.small.write(s.image, label.x, box.Min.Y+s.small.ascent, label.text)
	}
}

// paintMap colours the pixels of a box around an origin by the classes that at gives for places within the pixel, which
// are averaged.
func (s *sheet) paintMap(origin image.Point, box image.Rectangle, at func(x, y float64) (uint8, bool)) {
	const fine = 2
	for y := box.Min.Y; y < box.Max.Y; y++ {
		for x := box.Min.X; x < box.Max.X; x++ {
			pixel := s.image.Pix[s.image.PixOffset(origin.X+x, origin.Y+y):][:3]
			under := color.RGBA{pixel[0], pixel[1], pixel[2], 0xff}
			var sum [3]int
			for i := range fine * fine {
				class, on := at(float64(x)+(float64(i%fine)+0.5)/fine, float64(y)+(float64(i/fine)+0.5)/fine)
				shade := under
				if on {
					shade = residueShade(class, x, y)
				}
				sum[0], sum[1], sum[2] = sum[0]+int(shade.R), sum[1]+int(shade.G), sum[2]+int(shade.B)
			}
			for i := range sum {
				pixel[i] = uint8(sum[i] / (fine * fine))
			}
		}
	}
}

// residueShade is the colour of a class on the map. What one photo alone shows is hatched.
func residueShade(class uint8, x, y int) color.RGBA {
	switch {
	case int(class) < len(tints):
		return tints[class].colour
	case class == deposit.Unreadable && hatched(x+2*residueWidth, y+2*residueWidth):
		return onceSeen
	default:
		return unseen
	}
}

// hours writes the full hours around the dial.
func (s *sheet) hours(centre image.Point) {
	for hour := 1; hour <= 12; hour++ {
		sin, cos := math.Sincos(float64(hour) * math.Pi / 6)
		text := fmt.Sprint(hour)
		x := centre.X + int((dialRadius+hourGap)*sin) - s.small.width(text)/2
		y := centre.Y - int((dialRadius+hourGap)*cos) + s.small.ascent/2
		s.small.write(s.image, x, y, text)
	}
}

func (s *sheet) residueLegend(words ResidueWords) {
	side := s.small.ascent + 2
	x := s.margin
	entry := func(name string) image.Rectangle {
		box := image.Rect(x, s.y, x+2*side, s.y+side)
		x = s.small.write(s.image, box.Max.X+s.margin/3, s.y+s.small.ascent, name) + s.margin
		return box
	}
	framed := func(name string, class uint8) {
		box := entry(name)
		s.fill(box, fineLines)
		s.paintMap(
			box.Min.Add(image.Pt(1, 1)),
			image.Rectangle{Max: box.Inset(1).Size()},
			func(_, _ float64) (uint8, bool) { return class, true },
		)
	}
	for class := range tints {
		framed(words.Classes[class], uint8(class))
	}
	framed(words.OneOnly, deposit.Unreadable)
	framed(words.Neither, deposit.NotValve)
}
