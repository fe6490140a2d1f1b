package draw

import (
	"fmt"
	"image"
	"image/draw"

	"valvegrade/internal/number"
	"valvegrade/internal/ramp"
	"valvegrade/pkg/grade"
	"valvegrade/pkg/score"
)

// numberValves writes its number beside each valve of a photo: at the upper left corner of its box, as far as
// that lies in the picture.
func numberValves(picture *image.RGBA, valves []*score.Result) {
	size := picture.Rect.Size()
	digit := newPen(bold(), 20*max(1, float64(max(size.X, size.Y))/640), outlineCore)
	side := 2 * digit.ascent
	for _, r := range valves {
		if r.Region == nil || r.Region.Bounds().Empty() {
			continue
		}
		box, whole := r.Region.Bounds(), r.Region.Mask.Rect
		x := min(max(0, box.Min.X*size.X/whole.Dx()-side/2), size.X-side)
		y := min(max(0, box.Min.Y*size.Y/whole.Dy()-side/2), size.Y-side)
		plate := image.Rect(x, y, x+side, y+side)
		draw.Draw(picture, plate, image.NewUniform(outlineCasing), image.Point{}, draw.Src)
		text := fmt.Sprint(r.Valve)
		digit.write(picture, x+(side-digit.width(text))/2, y+(side+digit.ascent)/2, text)
	}
}

// row is the height of the line of one of several valves.
func (s *sheet) row() int { return 2*s.body.ascent + s.margin/2 }

// line writes the number of one of several valves, its grade as a plate in its colour, its name and figures; or why it
// was not graded.
func (s *sheet) line(r *score.Result) {
	side := 2 * s.body.ascent
	base := s.y + (side+s.body.ascent)/2
	defer func() { s.y += s.row() }()
	x := s.strong.write(s.image, s.margin, base, fmt.Sprint(r.Valve)) + s.margin
	plate := image.Rect(x, s.y, x+side, s.y+side)
	x = plate.Max.X + s.margin
	if r.Status != score.Scored {
		s.swatch(plate, paper)
		s.body.write(s.image, x, base, s.body.fit("not graded: "+shorts(r), s.width-s.margin-x))
		return
	}
	s.swatch(plate, ramp.Grade(r.Grade.Value))
	digit, figure := *s.strong, fmt.Sprint(r.Grade.Value)
	digit.colour = contrasting(ramp.Grade(r.Grade.Value))
	digit.write(s.image, plate.Min.X+(side-digit.width(figure))/2, base, figure)
	x = max(x+s.strong.width("crusted"), s.strong.write(s.image, x, base, r.Grade.Words())) + s.margin
	dark, index := r.Deposit.Both.Dark, r.Deposit.Both.Index
	x = s.body.write(s.image, x, base, "dark deposit ")
	s.strong.write(s.image, x, base, number.Text(dark.Value, 0)+" %")
	x += s.strong.width("100 %") + s.margin/2
	x = s.small.write(s.image, x, base, interval(dark, 0)) + s.margin
	more := "index " + grade.IndexText(index.Value) + " " + interval(index, 0) + ", " + r.Grade.Probabilities.Sentence()
	s.small.write(s.image, x, base, s.small.fit(more, s.width-s.margin-x))
}

// advices are the sentences of all reasons, each with the numbers of the valves that it is about where there are
// several.
func advices(valves []*score.Result) []string {
	var order []string
	of := map[string]string{}
	for _, r := range valves {
		for _, found := range r.Reasons {
			if of[found.Advice] == "" {
				order = append(order, found.Advice)
				of[found.Advice] = fmt.Sprint(r.Valve)
			} else {
				of[found.Advice] += fmt.Sprintf(" and %d", r.Valve)
			}
		}
	}
	if len(valves) > 1 {
		for n, advice := range order {
			order[n] = of[advice] + ": " + advice
		}
	}
	return order
}
