package region

import (
	"errors"
	"fmt"
	"math"
)

// Ellipse is the outline of a head in photo pixels (pixel-centre coordinates, y down).
type Ellipse struct {
	X, Y float64 // centre
	// A is the semi-major and B the semi-minor axis, in pixels, A >= B > 0.
	A, B float64
	// Angle of the major axis against the x axis, in degrees, clockwise as seen (y grows downwards), in [0, 180).
	Angle float64
}

// Area returns the area in square pixels.
func (e Ellipse) Area() float64 { return math.Pi * e.A * e.B }

// Level returns how far out a point lies: 0 at the centre, 1 on the outline, growing linearly along each ray.
func (e Ellipse) Level(p Point) float64 { return e.toCircle(p).length() }

// distances returns how far each point is from the outline along the ray from the centre, in pixels; NaN for the
// centre.
func (e Ellipse) distances(points []Point) []float64 {
	off := make([]float64, len(points))
	circle := e.circle()
	for i, p := range points {
		off[i] = math.Abs(1-1/circle.of(p).length()) * p.minus(circle.centre).length()
	}
	return off
}

// At returns the point of the outline at an eccentric angle in degrees: 0 is the end of the major axis that Angle
// points to, 90 the end of the minor axis clockwise from it.
func (e Ellipse) At(degrees float64) Point { return e.fromCircle(direction(degrees)) }

// toCircle maps the ellipse to the unit circle, its major axis to the x axis.
func (e Ellipse) toCircle(p Point) Point { return e.circle().of(p) }

// circle is toCircle and fromCircle for many points: what depends on the ellipse alone is computed once.
type circle struct {
	centre, along Point
	a, b          float64
}

func (e Ellipse) circle() circle { return circle{Point{e.X, e.Y}, direction(e.Angle), e.A, e.B} }

func (c circle) of(p Point) Point {
	d := p.minus(c.centre)
	return Point{d.dot(c.along) / c.a, c.along.cross(d) / c.b}
}

// from is the inverse of of.
func (c circle) from(q Point) Point {
	across := Point{-c.along.Y, c.along.X}
	return c.centre.plus(c.along.times(c.a * q.X)).plus(across.times(c.b * q.Y))
}

// fromCircle is the inverse of toCircle.
func (e Ellipse) fromCircle(q Point) Point { return e.circle().from(q) }

// ordered returns the same outline with A >= B and Angle in [0, 180).
func (e Ellipse) ordered() Ellipse {
	if e.A < e.B {
		e.A, e.B, e.Angle = e.B, e.A, e.Angle+90
	}
	e.Angle = math.Mod(math.Mod(e.Angle, 180)+180, 180)
	return e
}

// validate checks what must hold in any photo.
func (e Ellipse) validate() error {
	switch {
	case !finite(e.X, e.Y, e.A, e.B, e.Angle):
		return errors.New("centre, axes and angle must be finite numbers")
	case e.A < smallestMark || e.B < smallestMark:
		return fmt.Errorf("semi-axes must be at least %d pixels", smallestMark)
	}
	return nil
}

// visible reports whether any pixel centre of the photo lies inside the ellipse.
func (e Ellipse) visible(width, height int) bool {
	for y := range height {
		if from, to, ok := e.span(float64(y)); ok {
			if first, last := centres(from, to, width); first <= last {
				return true
			}
		}
	}
	return false
}

// span returns where a row of the photo enters and leaves the ellipse, false when it misses it.
func (e Ellipse) span(y float64) (from, to float64, ok bool) {
	// Along the row the level squared is a quadratic in x: |start + x*step|^2 = 1 in the plane of the unit circle.
	start, step := e.toCircle(Point{e.X, y}), e.toCircle(Point{e.X + 1, e.Y})
	a, b, c := step.dot(step), start.dot(step), start.dot(start)-1
	root := b*b - a*c
	if root < -onOutline*a {
		return 0, 0, false
	}
	half := math.Sqrt(max(root, 0))
	return e.X + (-b-half)/a, e.X + (-b+half)/a, true
}
