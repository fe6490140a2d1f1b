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

// ResidueMap draws a comparison: the valve head-on before and after, with the stem at 12 and unrolled below, in the colours of the
// deposit classes. Only what both photos show is coloured; what one of them shows is hatched. Without maps it says why.
func ResidueMap(c *compare.Comparison) *image.RGBA {
	s := &sheet{
		margin: residueMargin, width: residueWidth,
		large:  newPen(bold(), 26, ink),
		strong: newPen(bold(), 17, ink),
		body:   newPen(regular(), 17, ink),
		small:  newPen(regular(), 14, faint),
	}
	outcome := s.body.wrap(c.Outcome(), residueWidth-2*residueMargin)
	height := residueMargin + s.large.line + len(outcome)*s.body.line + residueMargin
	if c.Residue != nil {
		height += dialRoom + stemHeight + 4*s.small.line + residueMargin
	}
	s.image = image.NewRGBA(image.Rect(0, 0, residueWidth, height))
	draw.Draw(s.image, s.image.Rect, image.NewUniform(paper), image.Point{}, draw.Src)

	s.y = residueMargin
	s.large.write(s.image, s.margin, s.y+s.large.ascent, residueTitle(c))
	s.y += s.large.line
	for _, line := range outcome {
		s.body.write(s.image, s.margin, s.y+s.body.ascent, line)
		s.y += s.body.line
	}
	if c.Residue != nil {
		s.y += residueMargin
		s.state(residueWidth/4, c, state{"before", c.Before.Photo, c.Residue.Before, func(p compare.Part) deposit.Shares { return p.Before }})
		s.state(3*residueWidth/4, c, state{"after", c.After.Photo, c.Residue.After, func(p compare.Part) deposit.Shares { return p.After }})
		s.y += dialRoom + stemHeight + 5*s.small.line/2
		s.residueLegend()
	}
	return s.image
}

func residueTitle(c *compare.Comparison) string {
	title := string(c.Verdict)
	if title == "" {
		title = "not compared"
	}
	if c.Forced {
		title += " (forced: the photos do not register as one valve)"
	}
	return title
}

// state is one side of a comparison.
type state struct {
	name, photo string
	classes     []uint8
	shares      func(compare.Part) deposit.Shares
}

// state draws one of the two states around the column x.
func (s *sheet) state(x int, c *compare.Comparison, one state) {
	centre := image.Pt(x, s.y+3*hourGap+dialRadius)
	s.dial(centre, one.classes)
	if c.Clock != nil {
		s.hours(centre)
	}
	top := centre.Y + dialRadius + 2*hourGap
	s.unrolledStem(image.Rect(x-stemWidth/2, top, x+stemWidth/2, top+stemHeight), one.classes)
	left := x - dialRadius - hourGap
	left = s.strong.write(s.image, left, s.y+s.strong.ascent, one.name) + s.margin/2
	s.small.write(s.image, left, s.y+s.strong.ascent, s.small.fit(filepath.Base(one.photo), x+dialRadius-left))
	base := top + stemHeight + s.small.line
	text := "index"
	for _, zone := range []compare.Zone{compare.Rim, compare.Fillet, compare.Stem} {
		text += fmt.Sprintf("   %s %s", zone, indexText(one.shares(c.Zones[zone]).Index()))
	}
	s.small.write(s.image, x-s.small.width(text)/2, base, text)
}

// indexText rounds an index for a caption; a dash stands for one that was not measured.
func indexText(index float64) string {
	if math.IsNaN(index) {
		return "-"
	}
	return fmt.Sprintf("%.0f", index)
}

// dial draws the head as seen along the stem, 12 at the top.
func (s *sheet) dial(centre image.Point, classes []uint8) {
	box := image.Rect(-dialRadius, -dialRadius, dialRadius, dialRadius)
	s.paintMap(centre, box, func(x, y float64) (uint8, bool) {
		radius := math.Hypot(x, y) / dialRadius
		if radius >= 1 {
			return 0, false
		}
		angle := math.Mod(math.Atan2(x, -y)*180/math.Pi+360, 360)
		return classes[int(radius*compare.HeadRows)*compare.Columns+int(angle)%compare.Columns], true
	})
}

// unrolledStem draws the half of the stem that can be seen, from 9 on the left to 3 on the right, its foot at the top.
func (s *sheet) unrolledStem(box image.Rectangle, classes []uint8) {
	s.paintMap(box.Min, image.Rectangle{Max: box.Size()}, func(x, y float64) (uint8, bool) {
		column := compare.Columns*3/4 - 1 - int(x/stemWidth*compare.Columns/2)
		row := compare.HeadRows + int(y/stemHeight*compare.StemRows)
		return classes[row*compare.Columns+column], true
	})
	for _, label := range []struct {
		text string
		x    int
	}{{"9", box.Min.X - hourGap}, {"stem", box.Min.X - 4*hourGap}, {"3", box.Max.X + hourGap/2}} {
		s.small.write(s.image, label.x, box.Min.Y+s.small.ascent, label.text)
	}
}

// paintMap colours the pixels of a box around an origin by the classes that at gives for places within the pixel, which are averaged.
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

// residueShade is the colour of a class on the map; out of sight is a grey that even heavy deposit stands out from.
func residueShade(class uint8, x, y int) color.RGBA {
	out := blend(paper, faint, 0.45)
	switch {
	case int(class) < len(tints):
		return tints[class].colour
	case class == deposit.Unreadable && hatched(x+2*residueWidth, y+2*residueWidth):
		return blend(paper, faint, 0.7)
	default:
		return out
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

func (s *sheet) residueLegend() {
	side := s.small.ascent + 2
	x := s.margin
	entry := func(name string) image.Rectangle {
		box := image.Rect(x, s.y, x+2*side, s.y+side)
		x = s.small.write(s.image, box.Max.X+s.margin/3, s.y+s.small.ascent, name) + s.margin
		return box
	}
	for _, t := range tints {
		s.swatch(entry(t.name), t.colour)
	}
	one := entry("in one photo only, or unreadable")
	s.paintMap(one.Min, image.Rectangle{Max: one.Size()}, func(_, _ float64) (uint8, bool) { return deposit.Unreadable, true })
	s.swatch(entry("in neither"), residueShade(deposit.NotValve, 0, 0))
}
