package texture

import "math"

// Detail is the finest band of detail of a picture, and what is left without it.
type Detail struct {
	// Band is the blur of sigma 1 minus the blur of sigma 2.2 pixels, and Base the latter; both 0 outside.
	Band, Base []float32
}

// DetailOf splits off the band of detail of 1 to 2 pixels, as the second plane of the wavelet transform "a trous" with the B3
// spline (Starck, Murtagh & Bijaoui, "Image Processing and Data Analysis: The Multiscale Approach", 1998): blurring with 1 4
// 6 4 1, then again with the same weights two pixels apart. The first plane is left out: noise fills it.
//
// Means are taken over the inside pixels that a blur reaches, so the mask's edge makes no detail of its own. On a picture
// reduced by 4 the same call gives the band of 4 to 8 pixels.
func DetailOf(p Picture) Detail {
	value, weight := spline(p.Width, p.Height, 1, p.values), spline(p.Width, p.Height, 1, p.weights)
	rowsOf := func(plane []float32) func([]float32, int) {
		return func(row []float32, y int) { copy(row, plane[y*p.Width:]) }
	}
	wideValue, wideWeight := spline(p.Width, p.Height, 2, rowsOf(value)), spline(p.Width, p.Height, 2, rowsOf(weight))
	d := Detail{Band: value, Base: wideValue}
	for i := range d.Band {
		if p.inside(i) {
			d.Base[i] = wideValue[i] / wideWeight[i]
			d.Band[i] = value[i]/weight[i] - d.Base[i]
		} else {
			d.Band[i], d.Base[i] = 0, 0
		}
	}
	return d
}

// Energy returns the standard deviation of the band as a share of the picture's mean: 0 and up, NaN when nothing is inside.
func (d Detail) Energy(p Picture) float64 {
	var sum, squares, mean, count float64
	for i, band := range d.Band {
		if p.inside(i) {
			sum += float64(band)
			squares += float64(band) * float64(band)
			mean += float64(p.Value[i])
			count++
		}
	}
	sum, squares, mean = sum/count, squares/count, mean/count
	return math.Sqrt(math.Max(0, squares-sum*sum)) / mean
}

// The B3 spline's weights from the centre outwards.
const (
	splineCentre = 6.0 / 16
	splineNear   = 4.0 / 16
	splineFar    = 1.0 / 16
)

// values fills a row with the grey values of row y, 0 outside.
func (p Picture) values(row []float32, y int) {
	copy(row, p.Value[y*p.Width:])
	if p.Inside == nil {
		return
	}
	for x, inside := range p.Inside[y*p.Width:][:len(row)] {
		if !inside {
			row[x] = 0
		}
	}
}

// weights fills a row with 1 inside and 0 outside.
func (p Picture) weights(row []float32, y int) {
	for x := range row {
		row[x] = 1
	}
	if p.Inside == nil {
		return
	}
	for x, inside := range p.Inside[y*p.Width:][:len(row)] {
		if !inside {
			row[x] = 0
		}
	}
}

// spline blurs the rows that fill gives, then their columns, with zeros around the picture and the weights `apart` pixels apart.
// Of the rows blurred along themselves only those that a column reaches are kept, in a ring, so that they stay in the
// processor's cache.
func spline(width, height, apart int, fill func(row []float32, y int)) []float32 {
	out := make([]float32, width*height)
	margin := 2 * apart
	padded := make([]float32, width+2*margin)
	ring := make([][]float32, 2*margin+1)
	for i := range ring {
		ring[i] = make([]float32, width) // zeros stand for the rows above the picture
	}
	row := func(y int) []float32 { return ring[(y+len(ring))%len(ring)] }
	for next := range height + margin {
		if next < height {
			fill(padded[margin:margin+width], next)
			splineOf(row(next), padded, padded[apart:], padded[margin:], padded[margin+apart:], padded[2*margin:])
		} else {
			clear(row(next))
		}
		if y := next - margin; y >= 0 {
			splineOf(out[y*width:(y+1)*width], row(y-margin), row(y-apart), row(y), row(y+apart), row(y+margin))
		}
	}
	return out
}

// splineOf weights five sequences, each at least as long as target.
func splineOf(target, a, b, c, d, e []float32) {
	n := len(target)
	a, b, c, d, e = a[:n], b[:n], c[:n], d[:n], e[:n]
	for i := range target {
		target[i] = splineCentre*c[i] + splineNear*(b[i]+d[i]) + splineFar*(a[i]+e[i])
	}
}
