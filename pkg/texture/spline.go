package texture

import (
	"slices"
	"sync"
)

// plane holds the values of a picture row by row, of which much need not be computed because it is known.
type plane struct {
	width, height int
	value         []float32
	// some says of each row where something is: beyond it all stands for 0, whatever value holds there. Within ones all
	// is 1.
	some, ones []span
}

// newPlane returns a plane of zeros.
func newPlane(width, height int) *plane {
	return &plane{width, height, make([]float32, width*height), make([]span, height), make([]span, height)}
}

// spare keeps released planes for the next use: fresh memory costs more time to clear than a plane to fill.
var spare = sync.Pool{New: func() any { return new(plane) }}

// borrowed returns a plane in which nothing is; release it after use.
func borrowed(width, height int) *plane {
	p := spare.Get().(*plane)
	p.width, p.height = width, height
	p.value = slices.Grow(p.value[:0], width*height)[:width*height]
	p.some, p.ones = slices.Grow(p.some[:0], height)[:height], slices.Grow(p.ones[:0], height)[:height]
	clear(p.some)
	clear(p.ones)
	return p
}

func (p *plane) release() { spare.Put(p) }

// planes returns the picture's grey values, 0 outside, and their weights: 1 inside and 0 outside. The latter are
// borrowed.
func (p Picture) planes() (value, weight *plane) {
	value, weight = newPlane(p.Width, p.Height), borrowed(p.Width, p.Height)
	for y := range p.Height {
		some, ones := span{0, p.Width}, span{0, p.Width}
		if p.Inside != nil {
			some, ones = spansOf(p.Inside[y*p.Width:][:p.Width])
		}
		value.some[y], weight.some[y], weight.ones[y] = some, some, ones
		values, weights := value.value[y*p.Width:][:p.Width], weight.value[y*p.Width:][:p.Width]
		copy(values[some.from:some.to], p.Value[y*p.Width+some.from:])
		for x := some.from; x < some.to; x++ {
			weights[x] = 1
		}
		for _, part := range some.without(ones) {
			for x := part.from; x < part.to; x++ {
				if !p.Inside[y*p.Width+x] {
					values[x], weights[x] = 0, 0
				}
			}
		}
	}
	return value, weight
}

// splineWeights are those of the B3 spline from the centre outwards; variables, because a constant would be loaded for
// each pixel.
var splineWeights = [3]float32{6.0 / 16, 4.0 / 16, 1.0 / 16}

// blurred blurs the rows and then the columns into a plane in which nothing is, or into itself, with zeros around the
// picture and the weights `apart` pixels apart. Of the rows blurred along themselves only those that a column reaches
// are kept, in a ring, so that they stay in the processor's cache; no row is written before it has gone into the ring.
func (p *plane) blurred(apart int, into *plane) *plane {
	reach := 2 * apart
	ring := newPlane(p.width, 2*reach+1) // zeros stand for the rows above the picture
	line := func(y int) int { return (y + ring.height) % ring.height }
	row := func(y int, s span) []float32 { return ring.value[line(y)*p.width:][s.from:s.to] }
	padded, whole := make([]float32, p.width+2*reach), slices.Repeat([]float32{1}, p.width)
	for next := range p.height + reach {
		p.blurLine(next, apart, ring, line(next), padded)
		copyOf(ring.value[line(next)*p.width:], ring.ones[line(next)], whole)
		y := next - reach
		if y < 0 {
			continue
		}
		lines := [5]int{y - reach, y - apart, y, y + apart, y + reach}
		some, ones := span{}, ring.ones[line(y)]
		for _, l := range lines {
			some, ones = some.around(ring.some[line(l)]), ones.common(ring.ones[line(l)])
		}
		into.some[y], into.ones[y] = some, ones
		target := into.value[y*p.width:][:p.width]
		for _, s := range some.without(ones) {
			splineOf(
				target[s.from:s.to],
				row(lines[0], s),
				row(lines[1], s),
				row(lines[2], s),
				row(lines[3], s),
				row(lines[4], s),
			)
		}
		copyOf(target, ones, whole)
	}
	return into
}

// blurLine blurs row y along itself into a line of the ring, all but where it stays 1; below the picture there are
// zeros.
func (p *plane) blurLine(y, apart int, ring *plane, line int, padded []float32) {
	target := ring.value[line*p.width:][:p.width]
	clear(target)
	ring.some[line], ring.ones[line] = span{}, span{}
	if y >= p.height {
		return
	}
	reach := 2 * apart
	some := p.some[y]
	clear(padded)
	copy(padded[reach+some.from:reach+some.to], p.value[y*p.width+some.from:])
	ring.some[line], ring.ones[line] = some.grown(reach, p.width), p.ones[y].shrunk(reach)
	for _, s := range ring.some[line].without(ring.ones[line]) {
		splineOf(
			target[s.from:s.to],
			padded[s.from:],
			padded[s.from+apart:],
			padded[s.from+reach:],
			padded[s.from+reach+apart:],
			padded[s.from+2*reach:],
		)
	}
}

// copyOf fills the span of a row with what a row of ones has there.
func copyOf(row []float32, s span, ones []float32) {
	if !s.empty() {
		copy(row[s.from:s.to], ones)
	}
}

// splineOf weights five sequences, each at least as long as target.
func splineOf(target, a, b, c, d, e []float32) {
	n := len(target)
	a, b, c, d, e = a[:n], b[:n], c[:n], d[:n], e[:n]
	centre, near, far := splineWeights[0], splineWeights[1], splineWeights[2]
	for i := range target {
		target[i] = centre*c[i] + near*(b[i]+d[i]) + far*(a[i]+e[i])
	}
}
