package texture

import (
	"math"
	"math/bits"
)

// Circle samples a neighbourhood for local binary patterns: points evenly spaced on a circle, the first to the right,
// the others counter-clockwise as seen, between pixels by bilinear interpolation. Ojala, Pietikainen & Maenpaa,
// "Multiresolution gray-scale and rotation invariant texture classification with local binary patterns", IEEE
// Transactions on Pattern Analysis and Machine Intelligence 24 (2002).
type Circle struct {
	points [][]tap
	reach  int
}

// tap is one pixel's part in a sample.
type tap struct {
	right, down int
	weight      float64
}

// NewCircle returns the neighbourhood of 1 to 31 points at a radius in pixels.
func NewCircle(points int, radius float64) *Circle {
	c := &Circle{reach: int(math.Ceil(radius))}
	for i := range points {
		angle := 2 * math.Pi * float64(i) / float64(points)
		c.points = append(c.points, bilinear(fifth(radius*math.Cos(angle)), fifth(-radius*math.Sin(angle))))
	}
	return c
}

// fifth rounds to five decimals, so that points meant to lie on a pixel do.
func fifth(x float64) float64 { return math.Round(x*1e5) / 1e5 }

func bilinear(right, down float64) []tap {
	x0, y0 := math.Floor(right), math.Floor(down)
	fx, fy := right-x0, down-y0
	var taps []tap
	for _, t := range []tap{
		{int(x0), int(y0), (1 - fx) * (1 - fy)}, {int(x0) + 1, int(y0), fx * (1 - fy)},
		{int(x0), int(y0) + 1, (1 - fx) * fy}, {int(x0) + 1, int(y0) + 1, fx * fy},
	} {
		if t.weight > 0 {
			taps = append(taps, t)
		}
	}
	return taps
}

// Bits returns the pattern at (x, y): bit i is set when point i is at least as bright as the centre. ok is false where
// the square around the circle is not wholly inside the picture and its mask.
func (c *Circle) Bits(p Picture, x, y int) (pattern uint32, ok bool) { return c.on(p).bits(x, y) }

// laid is a circle laid on a picture: its taps are steps through the picture's values.
type laid struct {
	Picture
	points [][]stride
	reach  int
}

type stride struct {
	step   int
	weight float64
}

func (c *Circle) on(p Picture) *laid {
	l := &laid{p, make([][]stride, len(c.points)), c.reach}
	for i, point := range c.points {
		for _, t := range point {
			l.points[i] = append(l.points[i], stride{t.down*p.Width + t.right, t.weight})
		}
	}
	return l
}

func (l *laid) bits(x, y int) (pattern uint32, ok bool) {
	if x < l.reach || y < l.reach || x >= l.Width-l.reach || y >= l.Height-l.reach {
		return 0, false
	}
	for row := y - l.reach; row <= y+l.reach && l.Inside != nil; row++ {
		for _, inside := range l.Inside[row*l.Width+x-l.reach:][:2*l.reach+1] {
			if !inside {
				return 0, false
			}
		}
	}
	// Interpolating four equal values may round to just below them.
	at := y*l.Width + x
	centre := float64(l.Value[at])
	centre -= 1e-9 * math.Abs(centre)
	for i, point := range l.points {
		sample := 0.0
		for _, t := range point {
			sample += t.weight * float64(l.Value[at+t.step])
		}
		if sample >= centre {
			pattern |= 1 << i
		}
	}
	return pattern, true
}

// Rotated returns the smallest number that the pattern of the given number of points makes in any rotation.
func Rotated(pattern uint32, points int) uint32 {
	least := pattern
	for range points {
		pattern = pattern>>1 | pattern&1<<(points-1)
		least = min(least, pattern)
	}
	return least
}

// Uniform returns the rotation-invariant uniform code ("riu2"): the number of set bits of a pattern with at most two
// changes around the circle, points+1 for all others.
func Uniform(pattern uint32, points int) int {
	turned := pattern>>1 | pattern&1<<(points-1)
	if bits.OnesCount32(pattern^turned) > 2 {
		return points + 1
	}
	return bits.OnesCount32(pattern)
}

// PatternEntropy returns the entropy in bits of the histogram of Uniform codes, 0 to log2(points+2), NaN when no pixel
// has a whole neighbourhood. Every step-th pixel of every step-th row is a centre.
func (c *Circle) PatternEntropy(p Picture, step int) float64 {
	points := len(c.points)
	histogram, total := make([]int, points+2), 0
	laid := c.on(p)
	for y := 0; y < p.Height; y += step {
		for x := 0; x < p.Width; x += step {
			if !p.inside(y*p.Width + x) {
				continue
			}
			if pattern, ok := laid.bits(x, y); ok {
				histogram[Uniform(pattern, points)]++
				total++
			}
		}
	}
	if total == 0 {
		return math.NaN()
	}
	entropy := 0.0
	for _, count := range histogram {
		if count > 0 {
			share := float64(count) / float64(total)
			entropy -= share * math.Log2(share)
		}
	}
	return entropy
}
