package texture

import "math"

// Detail is the finest band of detail of a picture, and what is left without it.
type Detail struct {
	// Band is the blur of sigma 1 minus the blur of sigma 2.2 pixels, and Base the latter; both 0 outside.
	Band, Base []float32
}

// DetailOf splits off the band of detail of 1 to 2 pixels, as the second plane of the wavelet transform "a trous" with
// the B3 spline (Starck, Murtagh & Bijaoui, "Image Processing and Data Analysis: The Multiscale Approach", 1998):
// blurring with 1 4 6 4 1, then again with the same weights two pixels apart. The first plane is left out: noise fills
// it.
//
// Means are taken over the inside pixels that a blur reaches, so the mask's edge makes no detail of its own. On a
// picture reduced by 4 the same call gives the band of 4 to 8 pixels.
func DetailOf(p Picture) Detail {
	values, weights := p.planes()
	value, weight := values.blurred(1, values), weights.blurred(1, weights)
	wideValue := value.blurred(2, newPlane(p.Width, p.Height))
	wideWeight := weight.blurred(2, borrowed(p.Width, p.Height))
	defer weight.release()
	defer wideWeight.release()
	d := Detail{Band: value.value, Base: wideValue.value}
	for y := range p.Height {
		row := y * p.Width
		whole := wideWeight.ones[y] // here all weights are 1
		if !whole.empty() {
			band, base := d.Band[row+whole.from:row+whole.to], d.Base[row+whole.from:row+whole.to]
			for i := range band {
				band[i] -= base[i]
			}
		}
		for _, part := range wideWeight.some[y].without(whole) {
			for i := row + part.from; i < row+part.to; i++ {
				if p.inside(i) {
					d.Base[i] /= wideWeight.value[i]
					d.Band[i] = d.Band[i]/weight.value[i] - d.Base[i]
				} else {
					d.Band[i], d.Base[i] = 0, 0
				}
			}
		}
	}
	return d
}

// Energy returns the standard deviation of the band as a share of the picture's mean: 0 and up, NaN when nothing is
// inside.
func (d Detail) Energy(p Picture) float64 {
	var sum, squares, mean, count float64
	for y := range p.Height {
		row := span{0, p.Width}
		if p.Inside != nil {
			row, _ = spansOf(p.Inside[y*p.Width:][:p.Width])
		}
		for i := y*p.Width + row.from; i < y*p.Width+row.to; i++ {
			if p.inside(i) {
				band := float64(d.Band[i])
				sum += band
				squares += band * band
				mean += float64(p.Value[i])
				count++
			}
		}
	}
	sum, squares, mean = sum/count, squares/count, mean/count
	return math.Sqrt(math.Max(0, squares-sum*sum)) / mean
}
