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
	// Others are the outlines of further valves in the photo, mostOthers at most.
	Others []Outline
	// FindOthers leaves further valves, on which no outline lies, to the net. Without it the photo is taken for one of
	// the outlined valves alone.
	FindOthers bool
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
	// mostOthers bounds the work for one photo: each outline costs a look of the net.
	mostOthers = 7
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

// Check reports whether the marks can belong to a photo of the given size: each head and stem is near it and not larger
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
	if !m.Outlined() && len(m.Painted) == 0 {
		return Outline{}.check(width, height)
	}
	for _, o := range m.outlines() {
		if err := o.check(width, height); err != nil {
			return err
		}
	}
	return nil
}
