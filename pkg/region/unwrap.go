package region

import "math"

// Unwrap rolls the head out flat: it maps (angle, radius) on the valve to a photo pixel and back.
//
// The head is seen as a cone of circles, from its foot, where the stem stands on it (radius 0), to its rim, the ellipse
// (radius 1); the circles between shrink and move evenly from one to the other. Angle counts clockwise in the photo, in
// degrees, from the direction in which the stem leans; equal steps are equal steps on the valve, not in the photo.
type Unwrap struct {
	rim   circle
	stem  *Line
	foot  Point   // in the plane of the unit circle that the rim becomes
	lean  float64 // eccentric angle of the stem's direction, degrees
	leans Point   // the direction itself
}

// NewUnwrap makes the map of a head. Without a stem (nil) the foot is the centre of the rim and angles count from where
// the minor axis points up, since a stem leans along the minor axis. A foot outside 0.9 of the rim is drawn in to it.
func NewUnwrap(rim Ellipse, stem *Line) Unwrap {
	rim = rim.ordered()
	u := Unwrap{rim: rim.circle(), stem: stem}
	up := u.rim.from(Point{0, 1})
	if up.Y > rim.Y {
		up = u.rim.from(Point{0, -1})
	}
	leans := u.rim.of(up)
	if stem != nil {
		u.foot = u.rim.of(Point{stem.X2, stem.Y2})
		if reach := u.foot.length(); reach > 0.9 {
			u.foot = u.foot.times(0.9 / reach)
		}
		leans = u.rim.of(u.rim.centre.plus(Point{stem.X1 - stem.X2, stem.Y1 - stem.Y2}))
	}
	u.lean = math.Atan2(leans.Y, leans.X) * 180 / math.Pi
	u.leans = direction(u.lean)
	return u
}

// Photo returns the pixel of a place on the head; any angle, radius 0 at the foot to 1 at the rim.
func (u Unwrap) Photo(angle, radius float64) Point {
	return u.rim.from(u.foot.times(1 - radius).plus(direction(u.lean + angle).times(radius)))
}

// HeadOn returns the pixel of a place on the head as it is seen along the stem with angle 0 at the top: x to the right and
// y down, in radii of the rim around the foot. It is Photo without its angles, which a whole picture would ask for.
func (u Unwrap) HeadOn(x, y float64) Point {
	turned := Point{-x*u.leans.Y - y*u.leans.X, x*u.leans.X - y*u.leans.Y}
	return u.rim.from(u.foot.times(1 - math.Sqrt(x*x+y*y)).plus(turned))
}

// Head returns the place on the head of a pixel: angle in [0, 360), radius 0 to 1 inside the rim and above 1 outside.
// At the foot itself the angle is 0.
func (u Unwrap) Head(p Point) (angle, radius float64) {
	// With q the pixel in the circle's plane: |q - foot + r*foot| = r, a quadratic in r with one root >= 0.
	d := u.rim.of(p).minus(u.foot)
	a, b, c := 1-u.foot.dot(u.foot), d.dot(u.foot), d.dot(d)
	if c == 0 {
		return 0, 0
	}
	radius = (b + math.Sqrt(b*b+a*c)) / a
	on := d.plus(u.foot.times(radius))
	angle = math.Mod(math.Atan2(on.Y, on.X)*180/math.Pi-u.lean+720, 360)
	return angle, radius
}

// leastTilt keeps the stem's length finite: seen nearly along its axis a stem has next to no length in the photo.
const leastTilt = 0.3

// OnStem returns the pixel of a place on the stem: angle as on the head, height in stem diameters above the foot.
//
// Only the side that faces the lens can be seen: half a turn, from a quarter clockwise of the lean to a quarter
// counter-clockwise of it (90 to 270 degrees, both left out). ok is false for the other side, and without a stem.
//
// Heights are foreshortened as a circle is that shows as the rim does (sine of the tilt = sqrt(1 - B²/A²)); perspective
// is left out, so heights are rough.
func (u Unwrap) OnStem(angle, height float64) (p Point, ok bool) {
	sin, cos := math.Sincos(angle * math.Pi / 180)
	if u.stem == nil || cos > -1e-12 { // rounding must not show the very edge
		return Point{}, false
	}
	foot := Point{u.stem.X2, u.stem.Y2}
	up := Point{u.stem.X1, u.stem.Y1}.minus(foot)
	up = up.times(1 / up.length())
	clockwise := Point{-up.Y, up.X}
	tilt := max(leastTilt, math.Sqrt(1-u.rim.b*u.rim.b/(u.rim.a*u.rim.a)))
	return foot.plus(up.times(height * u.stem.Width * tilt)).plus(clockwise.times(sin * u.stem.Width / 2)), true
}
