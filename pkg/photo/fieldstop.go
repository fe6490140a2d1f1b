package photo

import (
	"image"
	"math"
	"slices"

	"valvegrade/pkg/colour"
)

// fieldStop is the circle inside which a probe shows its picture; radius +Inf when the picture fills the frame. Centre
// and radius are in photo pixels.
type fieldStop struct {
	x, y, radius float64
}

const (
	// stopCode is the luma below which a sample counts as outside: sensors and JPEG leave black a few codes above 0.
	stopCode = 14
	// stopRays is how many rays look for the rim from the border inwards.
	stopRays = 96
	// stopFits is how often the circle is fitted, each time without the points that the last one missed.
	stopFits = 4
	// stopError is how far, as a share of the radius, the rim may typically lie off its circle. Shadows in a port are
	// not round.
	stopError = 0.02
)

// holds reports whether a photo pixel lies inside.
func (s fieldStop) holds(x, y int) bool {
	dx, dy := float64(x)-s.x, float64(y)-s.y
	return dx*dx+dy*dy < s.radius*s.radius
}

// area is the number of pixels of a photo of that size that lie inside, by sampling on a fixed grid.
func (s fieldStop) area(size image.Point) float64 {
	const cells = 128
	inside := 0
	for i := range cells * cells {
		if s.holds((2*(i%cells)+1)*size.X/(2*cells), (2*(i/cells)+1)*size.Y/(2*cells)) {
			inside++
		}
	}
	return float64(inside) / (cells * cells) * float64(size.X*size.Y)
}

// luminance is the mean linear luminance inside, from samples on a grid.
func (s fieldStop) luminance(img *image.NRGBA) float64 {
	const cells = 64
	sum, n := 0.0, 0
	for i := range cells * cells {
		x, y := (2*(i%cells)+1)*img.Rect.Dx()/(2*cells), (2*(i/cells)+1)*img.Rect.Dy()/(2*cells)
		if s.holds(x, y) {
			sum += colour.Decode(lumaAt(img, x, y) / 255)
			n++
		}
	}
	return sum / float64(n)
}

// findFieldStop looks for a dark surround with a round rim. Rays run from the border to the middle until they meet
// light; a circle is fitted to where they stopped, and again without the rays that a date text or a dark spot misled.
func findFieldStop(img *image.NRGBA) fieldStop {
	none := fieldStop{radius: math.Inf(1)}
	rim := rimPoints(img)
	if len(rim) < stopRays/3 {
		return none
	}
	var stop fieldStop
	for range stopFits {
		circle, ok := fitCircle(rim)
		if !ok {
			return none
		}
		stop, rim = circle, nearest(circle, rim)
	}
	off := distances(stop, rim)
	slices.Sort(off)
	smallest := 0.2 * float64(min(img.Rect.Dx(), img.Rect.Dy()))
	if len(rim) < stopRays/4 || quantile(off, 0.75) > stopError*stop.radius+1 || stop.radius < smallest {
		return none
	}
	return stop
}

// nearest drops the points that lie much further off the circle than the typical one.
func nearest(s fieldStop, points []point) []point {
	off := distances(s, points)
	typical := quantile(slices.Sorted(slices.Values(off)), 0.5)
	var kept []point
	for i, p := range points {
		if off[i] <= 2.5*typical+1 {
			kept = append(kept, p)
		}
	}
	return kept
}

type point struct{ x, y float64 }

// rimPoints returns where rays from the border first meet light, without those that met it at the border itself.
func rimPoints(img *image.NRGBA) []point {
	w, h := float64(img.Rect.Dx()), float64(img.Rect.Dy())
	pace := max(1, int(max(w, h))/frameSide)
	var rim []point
	for i := range stopRays {
		angle := 2 * math.Pi * (float64(i) + 0.5) / stopRays
		dx, dy := math.Cos(angle), math.Sin(angle)
		reach := min((w/2-1)/math.Abs(dx), (h/2-1)/math.Abs(dy))
		for r := reach; r > 0; r -= float64(pace) {
			x, y := w/2+r*dx, h/2+r*dy
			if lumaAt(img, int(x), int(y)) < stopCode {
				continue
			}
			if reach-r > 3*float64(pace) {
				rim = append(rim, point{x, y})
			}
			break
		}
	}
	return rim
}

// fitCircle is the algebraic least-squares circle (I. Kasa, IEEE Trans. Instrum. Meas. 25, 1976): x2+y2 = 2ax + 2by +
// c.
func fitCircle(points []point) (fieldStop, bool) {
	n := float64(len(points))
	var mx, my float64
	for _, p := range points {
		mx += p.x / n
		my += p.y / n
	}
	var uu, uv, vv, uz, vz, z float64
	for _, p := range points {
		u, v := p.x-mx, p.y-my
		s := u*u + v*v
		uu, uv, vv = uu+u*u, uv+u*v, vv+v*v
		uz, vz, z = uz+u*s, vz+v*s, z+s
	}
	det := uu*vv - uv*uv
	if len(points) < 3 || det < 1e-9*(uu+vv)*(uu+vv) {
		return fieldStop{}, false
	}
	a, b := (uz*vv-vz*uv)/det/2, (vz*uu-uz*uv)/det/2
	return fieldStop{x: mx + a, y: my + b, radius: math.Sqrt(a*a + b*b + z/n)}, true
}

// distances is how far each point lies from the circle.
func distances(s fieldStop, points []point) []float64 {
	off := make([]float64, len(points))
	for i, p := range points {
		off[i] = math.Abs(math.Hypot(p.x-s.x, p.y-s.y) - s.radius)
	}
	return off
}
