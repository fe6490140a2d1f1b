package region

import (
	"errors"
	"fmt"
	"image"
	"math"
	"slices"
)

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
	// mostPainted is how many points all strokes may have together: as many as fit into a marks file, which has a limit
	// of bytes and of parts.
	mostPainted = 10_000
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

// eachRun visits the runs [from, to) of the stroke's pixels in the rows of a picture of that size: those whose centres lie
// within half a width of its line, each once.
//
// Segments are laid on each other before anything is visited: 40 000 parts of a marks file that each cross the whole
// picture must not cost that many pictures.
func (s Stroke) eachRun(size image.Rectangle, visit func(y, from, to int)) {
	begun := make([]int, size.Dx()+1) // in a row, how many segments begin at a pixel, less those that end before it
	for y := range size.Dy() {
		crossed := false
		for n, p := range s.Path {
			from, to, ok := s.span(s.Path[max(0, n-1)], p, float64(y))
			if first, last := centres(from, to, size.Dx()); ok && first <= last {
				begun[first]++
				begun[last+1]--
				crossed = true
			}
		}
		for x, from, open := 0, 0, 0; crossed && x < len(begun); x++ {
			before := open
			open += begun[x]
			begun[x] = 0
			switch {
			case before == 0 && open > 0:
				from = x
			case before > 0 && open == 0:
				visit(y, from, x)
			}
		}
	}
}

// span returns where a row enters and leaves what lies within half a width of the line from a to b, false when it misses
// it: two discs and a rectangle between them.
func (s Stroke) span(a, b Point, y float64) (from, to float64, ok bool) {
	radius := s.Width / 2
	from, to = math.Inf(1), math.Inf(-1)
	if y < min(a.Y, b.Y)-radius-onOutline || y > max(a.Y, b.Y)+radius+onOutline {
		return from, to, false
	}
	for _, end := range [2]Point{a, b} {
		if down := math.Abs(y - end.Y); down <= radius+onOutline {
			half := math.Sqrt(max(0, radius*radius-down*down))
			from, to = min(from, end.X-half), max(to, end.X+half)
		}
	}
	if left, right, between := (&Line{a.X, a.Y, b.X, b.Y, s.Width}).span(y); between {
		from, to = min(from, left), max(to, right)
	}
	return from, to, from <= to
}
