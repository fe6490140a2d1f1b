package draw

import (
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"strings"

	"valvegrade/internal/number"
	"valvegrade/internal/ramp"
	"valvegrade/pkg/grade"
	"valvegrade/pkg/measure"
	"valvegrade/pkg/reason"
	"valvegrade/pkg/region"
	"valvegrade/pkg/score"
)

// sheet is a caption strip in the making: text goes on at y, between the margins.
type sheet struct {
	image                      *image.RGBA
	margin, width, y           int
	large, strong, body, small *pen
}

// caption returns the strip below the picture, as high as its words need; it says whether the valves were brightened.
func caption(valves []*score.Result, width int, brightened bool) *image.RGBA {
	unit := (1 + float64(width)/640) / 2 // letters grow half as much as the picture
	s := &sheet{
		margin: int(12 * unit), width: width,
		large:  newPen(bold(), 22*unit, ink),
		strong: newPen(bold(), 14*unit, ink),
		body:   newPen(regular(), 14*unit, ink),
		small:  newPen(regular(), 11.5*unit, faint),
	}
	s.image = image.NewRGBA(image.Rect(0, 0, width, s.height(valves)))
	draw.Draw(s.image, s.image.Rect, image.NewUniform(paper), image.Point{}, draw.Src)
	s.y = s.margin
	switch r := valves[0]; {
	case len(valves) > 1:
		for _, valve := range valves {
			s.line(valve)
		}
		s.legend(r, brightened)
	case r.Status == score.Scored:
		s.verdict(r)
		s.legend(r, brightened)
	default:
		s.refusal(r)
	}
	s.advice(valves)
	s.foot(valves[0])
	return s.image
}

// height returns how high the strip must be for what caption writes into it.
func (s *sheet) height(valves []*score.Result) int {
	h := 2*s.margin + s.small.line + s.margin/2
	if len(valves) > 1 {
		h += len(valves) * s.row()
	} else {
		h += s.banner()
	}
	if len(valves) > 1 || valves[0].Status == score.Scored {
		h += s.margin/2 + s.small.line
	}
	for _, advice := range advices(valves) {
		h += len(s.body.wrap(advice, s.column())) * s.body.line
	}
	return h
}

// banner is the height of the first row: the grade with two lines of figures beside it.
func (s *sheet) banner() int { return 2*s.body.line + s.margin/2 }

// column is the width of the reasons' text beside their bullets.
func (s *sheet) column() int { return s.width - 2*s.margin - s.margin }

// verdict writes the grade as a plate in its colour, its name, and the figures with their intervals.
func (s *sheet) verdict(r *score.Result) {
	side := s.banner() - s.margin/2
	plate := image.Rect(s.margin, s.y, s.margin+side, s.y+side)
	s.swatch(plate, ramp.Grade(r.Grade.Value))
	digit := *s.large
	digit.colour = contrasting(ramp.Grade(r.Grade.Value))
	figure := fmt.Sprint(r.Grade.Value)
	digit.write(s.image, plate.Min.X+(side-digit.width(figure))/2, plate.Min.Y+(side+digit.ascent)/2, figure)

	x := s.large.write(s.image, plate.Max.X+s.margin, s.y+s.large.ascent, r.Grade.Words())
	note := r.Grade.Probabilities.Sentence()
	x = max(x, s.small.write(s.image, plate.Max.X+s.margin, s.y+side-s.margin/4, note)) + 2*s.margin

	dark, index := r.Deposit.Both.Dark, r.Deposit.Both.Index
	s.fact(x, s.y+s.body.ascent, "dark deposit", number.Text(dark.Value, 0)+" %", interval(dark, 0))
	s.fact(x, s.y+side-s.margin/4, "deposit index", grade.IndexText(index.Value), interval(index, 0))
	s.steps(r.Grade.Probabilities, s.y+side)
	s.y += s.banner()
}

// steps draws the probabilities of the grades 0 to 4 as five bars in the colours of the grades, at the right margin
// above base: the likelier, the higher.
func (s *sheet) steps(p grade.Probabilities, base int) {
	wide, high := s.margin*2/3, s.banner()-s.margin/2
	x := s.width - s.margin - grade.Grades*wide
	for value, share := range p {
		bar := image.Rect(x+1, base-max(2, int(share*float64(high))), x+wide, base)
		s.swatch(bar, ramp.Grade(value))
		x += wide
	}
}

// interval is that of a figure in words.
func interval(i measure.Figure, decimals int) string {
	return fmt.Sprintf("(%s to %s)", number.Text(i.Low, decimals), number.Text(i.High, decimals))
}

// fact writes one figure: its name, its value in bold and its interval in small letters, in columns.
func (s *sheet) fact(x, y int, name, value, interval string) {
	s.body.write(s.image, x, y, name)
	x += s.body.width("deposit index") + s.margin
	s.strong.write(s.image, x, y, value)
	x += s.strong.width("100.0") + s.margin
	s.small.write(s.image, x, y, interval)
}

// legend shows what tints, hatching and line mean.
func (s *sheet) legend(r *score.Result, brightened bool) {
	s.y += s.margin / 2
	side := s.small.ascent + 2
	top, base := s.y, s.y+s.small.ascent
	x := s.margin
	entry := func(name string) (box image.Rectangle) {
		box = image.Rect(x, top, x+2*side, top+side)
		x = s.small.write(s.image, box.Max.X+s.margin/3, base, name) + s.margin
		return box
	}
	for _, t := range tints {
		s.swatch(entry(t.name), t.colour)
	}
	s.hatch(entry("unreadable"))
	name := "outline of head and stem"
	if r.Region.Source == region.ByHand {
		name += ", set by hand"
	}
	if r.Deposit != nil && r.Deposit.Painted > 0 {
		name += "; classes painted by hand"
	}
	if brightened {
		name += "; the dark within it is brightened"
	}
	line := entry(name)
	middle := (line.Min.Y + line.Max.Y) / 2
	s.fill(image.Rect(line.Min.X, middle-1, line.Max.X, middle+1), outlineCore)
	s.y += s.small.line
}

// refusal writes that the photo was not graded, and the short reason.
func (s *sheet) refusal(r *score.Result) {
	s.large.write(s.image, s.margin, s.y+s.large.ascent, "not graded")
	s.body.write(s.image, s.margin, s.y+s.banner()-s.margin/2, s.body.fit(shorts(r), s.width-2*s.margin))
	s.y += s.banner()
}

// shorts are the labels of what refused a result.
func shorts(r *score.Result) string {
	var labels []string
	for _, found := range r.Reasons {
		if entry, ok := reason.Find(found.Code); ok && entry.Refuses {
			labels = append(labels, entry.Short)
		}
	}
	return strings.Join(labels, ", ")
}

// advice writes every reason's sentence.
func (s *sheet) advice(valves []*score.Result) {
	s.y += s.margin / 4
	for _, advice := range advices(valves) {
		dot := s.body.ascent / 2
		middle := s.y + s.body.ascent/2
		s.fill(image.Rect(s.margin, middle-dot/2, s.margin+dot, middle-dot/2+dot), ramp.Copper)
		for _, line := range s.body.wrap(advice, s.column()) {
			s.body.write(s.image, 2*s.margin, s.y+s.body.ascent, line)
			s.y += s.body.line
		}
	}
}

// foot names the file and the version, so that a picture handed on alone still says what it is.
func (s *sheet) foot(r *score.Result) {
	base := s.image.Rect.Max.Y - s.margin
	version := "valvegrade " + r.Version
	room := s.width - 2*s.margin
	right := s.small.width(version)
	s.small.write(s.image, s.width-s.margin-right, base, version)
	s.small.write(s.image, s.margin, base, s.small.fit(r.Name, room-right-s.margin))
}

// swatch fills a box with a colour and frames it faintly, so that the darkest one can be told from the paper.
func (s *sheet) swatch(box image.Rectangle, c color.RGBA) {
	s.fill(box, blend(paper, faint, 0.6))
	s.fill(box.Inset(1), c)
}

func (s *sheet) fill(box image.Rectangle, c color.RGBA) {
	draw.Draw(s.image, box, image.NewUniform(c), image.Point{}, draw.Src)
}

func (s *sheet) hatch(box image.Rectangle) {
	s.swatch(box, faint)
	for y := box.Min.Y; y < box.Max.Y; y++ {
		for x := box.Min.X; x < box.Max.X; x++ {
			if hatched(x, y) {
				s.image.SetRGBA(x, y, paper)
			}
		}
	}
}
