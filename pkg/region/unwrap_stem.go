package region

import "math"

// leastTilt keeps the stem's length finite: seen nearly along its axis a stem has next to no length in the photo.
const leastTilt = 0.3

// OnStem returns the pixel of a place on the stem: angle as on the head, height in stem diameters above the foot.
//
// Only the side that faces the lens can be seen: half a turn, from a quarter clockwise of the lean to a quarter counter-clockwise
// of it (90 to 270 degrees, both left out). ok is false for the other side, and without a stem.
//
// Heights are foreshortened as a circle is that shows as the rim does (sine of the tilt = sqrt(1 - B²/A²)); perspective is left
// out, so heights are rough.
func (u Unwrap) OnStem(angle, height float64) (p Point, ok bool) {
	sin, cos := math.Sincos(angle * math.Pi / 180)
	if u.stem == nil || cos > -1e-12 { // rounding must not show the very edge
		return Point{}, false
	}
	foot := Point{u.stem.X2, u.stem.Y2}
	up := Point{u.stem.X1, u.stem.Y1}.minus(foot)
	up = up.times(1 / up.length())
	clockwise := Point{-up.Y, up.X}
	tilt := max(leastTilt, math.Sqrt(1-u.rim.B*u.rim.B/(u.rim.A*u.rim.A)))
	return foot.plus(up.times(height * u.stem.Width * tilt)).plus(clockwise.times(sin * u.stem.Width / 2)), true
}
