package region

import (
	"cmp"
	"math"
	"slices"
)

// Point is a place in the photo, in pixel-centre coordinates, y down.
type Point struct{ X, Y float64 }

func (p Point) minus(q Point) Point   { return Point{p.X - q.X, p.Y - q.Y} }
func (p Point) plus(q Point) Point    { return Point{p.X + q.X, p.Y + q.Y} }
func (p Point) times(f float64) Point { return Point{p.X * f, p.Y * f} }
func (p Point) dot(q Point) float64   { return p.X*q.X + p.Y*q.Y }
func (p Point) cross(q Point) float64 { return p.X*q.Y - p.Y*q.X }
func (p Point) length() float64       { return math.Hypot(p.X, p.Y) }

// direction is the unit vector at an angle from the x axis, clockwise as seen.
func direction(degrees float64) Point {
	sin, cos := math.Sincos(degrees * math.Pi / 180)
	return Point{cos, sin}
}

func mean(points []Point) Point {
	var sum Point
	for _, p := range points {
		sum = sum.plus(p)
	}
	return sum.times(1 / float64(len(points)))
}

// hull returns the corners of the convex hull in order (Andrew's monotone chain, 1979). Three or more distinct points
// that are not on one line give three or more corners.
func hull(points []Point) []Point {
	sorted := slices.Clone(points)
	slices.SortFunc(sorted, func(a, b Point) int { return cmp.Or(cmp.Compare(a.X, b.X), cmp.Compare(a.Y, b.Y)) })
	sorted = slices.Compact(sorted)
	if len(sorted) < 3 {
		return sorted
	}
	half := func() []Point {
		var chain []Point
		for _, p := range sorted {
			for n := len(chain); n >= 2 && chain[n-1].minus(chain[n-2]).cross(p.minus(chain[n-2])) <= 0; n-- {
				chain = chain[:n-1]
			}
			chain = append(chain, p)
		}
		return chain[:len(chain)-1]
	}
	lower := half()
	slices.Reverse(sorted)
	return append(lower, half()...)
}

// toSegment returns the distance of p from the segment a-b.
func toSegment(p, a, b Point) float64 {
	ab := b.minus(a)
	share := 0.0
	if squared := ab.dot(ab); squared > 0 {
		share = min(max(p.minus(a).dot(ab)/squared, 0), 1)
	}
	return p.minus(a.plus(ab.times(share))).length()
}

// within reports whether p lies inside or on a convex outline, corners in the order of hull.
func within(p Point, corners []Point) bool {
	for k, corner := range corners {
		if corners[(k+1)%len(corners)].minus(corner).cross(p.minus(corner)) < 0 {
			return false
		}
	}
	return true
}
