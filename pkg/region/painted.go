package region

import (
	"errors"
	"fmt"
	"image"
	"math"
	"slices"

	"valvegrade/pkg/reason"
)

// Paint is what a stroke by hand says of the pixels under it.
type Paint string

// The paints: the deposit classes, and pixels that do not count, such as those of a tool, a finger or glare.
const (
	PaintBare   Paint = "bare"
	PaintFilm   Paint = "film"
	PaintMedium Paint = "medium"
	PaintHeavy  Paint = "heavy"
	PaintAside  Paint = "aside"
)

// Codes of Region.Painted: those of the classes of package deposit, and Unpainted for what is as it was measured.
const (
	paintedAside uint8 = 254
	Unpainted    uint8 = 255
)

var paintCodes = map[Paint]uint8{PaintBare: 0, PaintFilm: 1, PaintMedium: 2, PaintHeavy: 3, PaintAside: paintedAside}

// Stroke is a line of paint with round ends.
type Stroke struct {
	Paint Paint
	// Width is that of the line, in pixels.
	Width float64
	// Path are the points that it joins, one at least.
	Path []Point
}

const (
	// mostStrokes and mostPoints bound what a marks file may hold of paint; yamlform allows no more in one place.
	mostStrokes = 200
	mostPoints  = 200
)

// validate checks what must hold in any photo.
func (s Stroke) validate() error {
	if _, known := paintCodes[s.Paint]; !known {
		return fmt.Errorf("paint %q is none of bare, film, medium, heavy, aside", string(s.Paint))
	}
	if !finite(s.Width) || s.Width <= 0 {
		return errors.New("width must be above 0")
	}
	if len(s.Path) == 0 || len(s.Path) > mostPoints {
		return fmt.Errorf("path needs 1 to %d points", mostPoints)
	}
	for _, p := range s.Path {
		if !finite(p.X, p.Y) {
			return errors.New("points must be finite numbers")
		}
	}
	return nil
}

// fits reports whether the stroke can belong to a photo of that size.
func (s Stroke) fits(width, height int) bool {
	w, h := float64(width), float64(height)
	if s.Width > farthestMark*math.Hypot(w, h) {
		return false
	}
	return !slices.ContainsFunc(s.Path, func(p Point) bool {
		return p.X < -farthestMark*w || p.X > (1+farthestMark)*w || p.Y < -farthestMark*h || p.Y > (1+farthestMark)*h
	})
}

// paint renders the strokes, later ones over earlier ones; nil when there are none.
func (m *Marks) paint(size image.Rectangle) *image.Gray {
	if len(m.Painted) == 0 {
		return nil
	}
	painted := image.NewGray(size)
	for i := range painted.Pix {
		painted.Pix[i] = Unpainted
	}
	for _, s := range m.Painted {
		code := paintCodes[s.Paint]
		s.any(size, func(at int) bool {
			painted.Pix[at] = code
			return false
		})
	}
	return painted
}

// any reports whether is holds of a pixel of the stroke, by its place in a picture of that size; once it does, no
// further one is asked.
func (s Stroke) any(size image.Rectangle, is func(at int) bool) bool {
	for n, p := range s.Path {
		if s.segment(size, s.Path[max(0, n-1)], p, is) {
			return true
		}
	}
	return false
}

// segment is any for the pixels whose centres lie within half a width of the line from a to b.
func (s Stroke) segment(size image.Rectangle, a, b Point, is func(at int) bool) bool {
	radius := s.Width / 2
	box := image.Rect(
		int(math.Floor(min(a.X, b.X)-radius)), int(math.Floor(min(a.Y, b.Y)-radius)),
		int(math.Ceil(max(a.X, b.X)+radius))+1, int(math.Ceil(max(a.Y, b.Y)+radius))+1,
	).Intersect(size)
	along := b.minus(a)
	length := along.dot(along)
	for y := box.Min.Y; y < box.Max.Y; y++ {
		for x := box.Min.X; x < box.Max.X; x++ {
			d := Point{float64(x), float64(y)}.minus(a)
			share := 0.0
			if length > 0 {
				share = max(0, min(1, d.dot(along)/length))
			}
			if d.minus(along.times(share)).length() <= radius+onOutline && is(y*size.Dx()+x) {
				return true
			}
		}
	}
	return false
}

// wear gives the valves the paint on them, and a caution where strokes lie beside all of them. Paint says what lies on a
// valve, not where the valve is: the wall of the port is painted over easily. Only where the net itself saw valve that
// was tidied away, such as a part behind a tool, does a class that somebody painted bring it back, in photos of one
// valve. An outline by hand is taken at its word.
func (m *Marks) wear(valves []*Region) {
	painted := m.paint(valves[0].Mask.Rect)
	if painted == nil {
		return
	}
	for _, r := range valves {
		if r.pixels() > 0 {
			r.Painted, r.PaintedBy = painted, m.By
		}
	}
	if r := valves[0]; len(valves) == 1 && r.pixels() > 0 && r.Source == Auto && r.Evidence != nil {
		r.restore(propose(r.Evidence).enlarge(r.Mask.Rect))
	}
	beside := m.beside(valves)
	if len(beside) == 0 {
		return
	}
	for _, r := range valves {
		if r.pixels() > 0 {
			r.Reasons = append(r.Reasons, reason.With(reason.PaintBeside, besideDetail(beside, len(m.Painted))))
		}
	}
}

// restore gives painted pixels that were tidied away back to the valve; seen is where the net saw it.
func (r *Region) restore(seen *image.Gray) {
	for i, code := range r.Painted.Pix {
		if code < paintedAside && r.Mask.Pix[i] == Background {
			r.Mask.Pix[i] = seen.Pix[i]
		}
	}
	r.count()
}

// beside are the numbers, from 1, of the strokes that touch no valve.
func (m *Marks) beside(valves []*Region) []int {
	var numbers []int
	for n, s := range m.Painted {
		touches := func(r *Region) bool {
			return s.any(r.Mask.Rect, func(at int) bool { return r.Mask.Pix[at] != Background })
		}
		if !slices.ContainsFunc(valves, touches) {
			numbers = append(numbers, n+1)
		}
	}
	return numbers
}

func besideDetail(numbers []int, of int) string {
	switch {
	case of == 1:
		return "the stroke that was painted lies beside the valve and was ignored"
	case len(numbers) == 1:
		return fmt.Sprintf("stroke %d of %d that were painted lies beside the valve and was ignored", numbers[0], of)
	}
	return fmt.Sprintf("%d of %d strokes that were painted lie beside the valve and were ignored", len(numbers), of)
}
