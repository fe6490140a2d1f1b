package region

import "math"

// Outline is the outline of one valve, set by hand.
type Outline struct {
	// Head is an ellipse whose semi-axes may come in either order and whose angle may be any number of degrees.
	Head Ellipse
	// Stem is the centre line from the far end to the head and the width; nil when the stem is hidden.
	Stem *Line
}

// outlines are all that the marks give, none where they leave them to the net.
func (m *Marks) outlines() []Outline {
	if !m.Outlined() {
		return nil
	}
	return append([]Outline{{m.Head, m.Stem}}, m.Others...)
}

// check reports whether the outline can belong to a photo of the given size. The error is an ErrMarks.
func (o Outline) check(width, height int) error {
	if err := o.Head.validate(); err != nil {
		return wrongMarks("head: %w", err)
	}
	w, h := float64(width), float64(height)
	near := func(x, y float64) bool {
		return x >= -farthestMark*w && x <= (1+farthestMark)*w && y >= -farthestMark*h && y <= (1+farthestMark)*h
	}
	largest := farthestMark * math.Hypot(w, h)
	if !near(o.Head.X, o.Head.Y) || max(o.Head.A, o.Head.B) > largest {
		return wrongMarks("head: does not fit a photo of %dx%d pixels", width, height)
	}
	if o.Stem != nil {
		if err := o.Stem.validate(); err != nil {
			return wrongMarks("stem: %w", err)
		}
		if !near(o.Stem.X1, o.Stem.Y1) || !near(o.Stem.X2, o.Stem.Y2) || o.Stem.Width > largest {
			return wrongMarks("stem: does not fit a photo of %dx%d pixels", width, height)
		}
	}
	if !o.Head.visible(width, height) {
		return wrongMarks("head: lies outside the photo of %dx%d pixels", width, height)
	}
	return nil
}

// shrunk returns the outline for a photo of which each pixel is the mean of k x k pixels.
func (o Outline) shrunk(k float64) Outline {
	place := func(v float64) float64 { return (v - (k-1)/2) / k }
	head := o.Head
	small := Outline{Head: Ellipse{place(head.X), place(head.Y), head.A / k, head.B / k, head.Angle}}
	if s := o.Stem; s != nil {
		small.Stem = &Line{place(s.X1), place(s.Y1), place(s.X2), place(s.Y2), s.Width / k}
	}
	return small
}
