package texture

// plane holds the values of a picture row by row, of which much need not be computed because it is known.
type plane struct {
	width, height int
	value         []float32
	// some says of each row beyond where all is 0, ones within where all is 1.
	some, ones []span
}

func newPlane(width, height int) plane {
	spans := make([]span, 2*height)
	return plane{width, height, make([]float32, width*height), spans[:height:height], spans[height:]}
}

// planes returns the picture's grey values, 0 outside, and their weights: 1 inside and 0 outside.
func (p Picture) planes() (value, weight plane) {
	value, weight = newPlane(p.Width, p.Height), newPlane(p.Width, p.Height)
	for y := range p.Height {
		some, ones := span{0, p.Width}, span{0, p.Width}
		if p.Inside != nil {
			some, ones = spansOf(p.Inside[y*p.Width:][:p.Width])
		}
		value.some[y], weight.some[y], weight.ones[y] = some, some, ones
		values, weights := value.value[y*p.Width:][:p.Width], weight.value[y*p.Width:][:p.Width]
		copy(values[some.from:some.to], p.Value[y*p.Width+some.from:])
		fillOnes(weights, some)
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

// splineWeights are those of the B3 spline from the centre outwards; variables, because a constant would be loaded for each pixel.
var splineWeights = [3]float32{6.0 / 16, 4.0 / 16, 1.0 / 16}

// blurred blurs the rows and then the columns, with zeros around the picture and the weights `apart` pixels apart. Of the rows
// blurred along themselves only those that a column reaches are kept, in a ring, so that they stay in the processor's cache.
func (p plane) blurred(apart int) plane {
	out := newPlane(p.width, p.height)
	reach := 2 * apart
	along := newPlane(p.width, 2*reach+1) // zeros stand for the rows above the picture
	line := func(y int) int { return (y + along.height) % along.height }
	row := func(y int, s span) []float32 { return along.value[line(y)*p.width:][s.from:s.to] }
	padded := make([]float32, p.width+2*reach)
	for next := range p.height + reach {
		p.blurLine(along, line(next), next, apart, padded)
		y := next - reach
		if y < 0 {
			continue
		}
		lines := [5]int{y - reach, y - apart, y, y + apart, y + reach}
		ones := along.ones[line(y)]
		for _, l := range lines {
			out.some[y] = out.some[y].around(along.some[line(l)])
			ones = ones.common(along.ones[line(l)])
		}
		target := out.value[y*p.width:][:p.width]
		for _, s := range out.some[y].without(ones) {
			splineOf(target[s.from:s.to], row(lines[0], s), row(lines[1], s), row(lines[2], s), row(lines[3], s), row(lines[4], s))
		}
		out.ones[y] = ones
		fillOnes(target, ones)
	}
	return out
}

// blurLine blurs row y along itself into a line of the ring; below the picture there are zeros.
func (p plane) blurLine(ring plane, line, y, apart int, padded []float32) {
	target := ring.value[line*p.width:][:p.width]
	clear(target)
	ring.some[line], ring.ones[line] = span{}, span{}
	if y >= p.height {
		return
	}
	reach := 2 * apart
	copy(padded[reach:], p.value[y*p.width:][:p.width])
	ring.some[line], ring.ones[line] = p.some[y].grown(reach, p.width), p.ones[y].shrunk(reach)
	for _, s := range ring.some[line].without(ring.ones[line]) {
		splineOf(target[s.from:s.to], padded[s.from:], padded[s.from+apart:], padded[s.from+reach:], padded[s.from+reach+apart:], padded[s.from+2*reach:])
	}
	fillOnes(target, ring.ones[line])
}

func fillOnes(row []float32, s span) {
	for x := s.from; x < s.to; x++ {
		row[x] = 1
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
