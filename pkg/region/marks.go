package region

import (
	"errors"
	"fmt"
	"math"
)

// ErrMarks is what every error about marks is: what they say cannot be read or cannot be.
var ErrMarks = errors.New("the marks cannot be used")

// marksError is an ErrMarks that does not say so: it is always told as the fault of marks, of an option or of a photo
// whose marks cannot be used.
type marksError struct{ error }

func (marksError) Is(target error) bool { return target == ErrMarks }

func (e marksError) Unwrap() error { return e.error }

func wrongMarks(format string, args ...any) error { return marksError{fmt.Errorf(format, args...)} }

// Marks are what was set by hand: the outlines of head and stem, which replace what the net proposes, and paint over
// what it says of the surface. Either may be missing, not both.
type Marks struct {
	// Head is the outline of the head. Its semi-axes may come in either order and its angle may be any number of
	// degrees. The zero value leaves the outlines to the net.
	Head Ellipse
	// Stem is the centre line from the far end to the head and the width; nil when the stem is hidden.
	Stem *Line
	// Painted are strokes, later ones over earlier ones.
	Painted []Stroke
	// By is who set the marks, "" when nobody said.
	By string
}

// Outlined reports whether the marks give outlines.
func (m *Marks) Outlined() bool { return m.Head != Ellipse{} }

const (
	// smallestMark is the least semi-axis or width in pixels.
	smallestMark = 2
	// farthestMark is how far outside a centre or an end may lie, in photo widths or heights; a semi-axis or a width
	// may be this many times the photo's diagonal.
	farthestMark = 1
)

// validate checks what must hold in any photo.
func (l Line) validate() error {
	switch {
	case !finite(l.X1, l.Y1, l.X2, l.Y2, l.Width):
		return errors.New("ends and width must be finite numbers")
	case l.X1 == l.X2 && l.Y1 == l.Y2:
		return errors.New("the two ends must be different places")
	case l.Width < smallestMark:
		return fmt.Errorf("width must be at least %d pixels", smallestMark)
	}
	return nil
}

func finite(values ...float64) bool {
	for _, v := range values {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return false
		}
	}
	return true
}

// Check reports whether the marks can belong to a photo of the given size: head and stem are near it and not larger
// than it could show, and some of the head lies inside. The error is an ErrMarks.
func (m *Marks) Check(width, height int) error {
	for n, s := range m.Painted {
		if err := s.validate(); err != nil {
			return wrongMarks("stroke %d: %w", n+1, err)
		}
		if !s.fits(width, height) {
			return wrongMarks("stroke %d does not fit a photo of %dx%d pixels", n+1, width, height)
		}
	}
	if len(m.Painted) > 0 && !m.Outlined() {
		return nil
	}
	if err := m.Head.validate(); err != nil {
		return wrongMarks("head: %w", err)
	}
	w, h := float64(width), float64(height)
	near := func(x, y float64) bool {
		return x >= -farthestMark*w && x <= (1+farthestMark)*w && y >= -farthestMark*h && y <= (1+farthestMark)*h
	}
	largest := farthestMark * math.Hypot(w, h)
	if !near(m.Head.X, m.Head.Y) || max(m.Head.A, m.Head.B) > largest {
		return wrongMarks("head: does not fit a photo of %dx%d pixels", width, height)
	}
	if m.Stem != nil {
		if err := m.Stem.validate(); err != nil {
			return wrongMarks("stem: %w", err)
		}
		if !near(m.Stem.X1, m.Stem.Y1) || !near(m.Stem.X2, m.Stem.Y2) || m.Stem.Width > largest {
			return wrongMarks("stem: does not fit a photo of %dx%d pixels", width, height)
		}
	}
	if !m.Head.visible(width, height) {
		return wrongMarks("head: lies outside the photo of %dx%d pixels", width, height)
	}
	return nil
}
