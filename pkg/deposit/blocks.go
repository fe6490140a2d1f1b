package deposit

import (
	"math"

	"valvegrade/pkg/colour"
)

// block is what the formula sees of 4 x 4 working pixels.
type block struct {
	x, y int
	// dark is how far the block lies below clean metal, in stops (factors of two), 0 and up.
	dark float64
	// rough is the standard deviation of luminance by relief around the block, as a share of its mean, noise taken out.
	rough float64
	// tint is the distance of the colour from grey towards brown and yellow, in units of CIELAB; 0 for neutral or blue.
	tint float64
}

const (
	// around a block relief is averaged over 5 x 5 blocks, weighted towards the middle: a single edge of a mirrored lamp is no relief.
	roughReach = 2
	// noiseCodes is the noise of a cheap camera and its JPEG, about 1.5 codes of 8-bit sRGB, as far as the band lets it pass:
	// white noise loses 80 % in the second plane of the transform.
	noiseCodes = 0.3
	// deepest keeps black blocks from outweighing all others.
	deepest = 6
)

// blocks returns the readable blocks of the view, row by row.
func (v *view) blocks(r relief) []block {
	plane := r.coarsePlane
	energy := make([]float64, len(plane.Value))
	found := make([]block, 0, len(plane.Value))
	for i, in := range plane.Inside {
		if in {
			b := block{x: i % plane.Width, y: i / plane.Width}
			b.dark = max(0, min(deepest, -math.Log2(max(float64(plane.Value[i]), 1e-9))))
			b.tint, energy[i] = v.look(r, i)
			found = append(found, b)
		}
	}
	for i := range found {
		b := &found[i]
		b.rough = math.Sqrt(weightedMean(energy, plane.Inside, plane.Width, b.x, b.y))
	}
	return found
}

// look returns the tint of block i, and its energy: the variance of both bands as a share of the local mean, less what noise
// makes.
func (v *view) look(r relief, i int) (tint, energy float64) {
	var sum light
	var fine, evened, count float32
	left, top := i%r.coarsePlane.Width*coarser, i/r.coarsePlane.Width*coarser
	for y := top; y < top+coarser; y++ {
		at := y*v.width + left
		inside, seen, luminance := (*[coarser]bool)(v.inside[at:]), (*[coarser]light)(v.light[at:]), (*[coarser]float32)(v.luminance[at:])
		band, base := (*[coarser]float32)(r.fine.Band[at:]), (*[coarser]float32)(r.fine.Base[at:])
		for x, in := range inside {
			if !in {
				continue
			}
			sum.r, sum.g, sum.b = sum.r+seen[x].r, sum.g+seen[x].g, sum.b+seen[x].b
			evened += luminance[x]
			if base[x] > 0 {
				share := band[x] / base[x]
				fine += share * share
			}
			count++
		}
	}
	coarse := 0.0
	if base := r.coarse.Base[i]; base > 0 {
		coarse = float64(r.coarse.Band[i] / base)
	}
	// The slope of the sRGB curve: one code is this share of the luminance.
	luminance, pixels := sum.luminance(), float64(count)
	code := 2.4 / 255 / (colour.Encode(luminance/pixels) + 0.055)
	noise := noiseCodes * code
	// Tint is the distance from grey of the mean colour where it leans to red and yellow.
	lab := v.lab(sum, float64(evened)/max(luminance, 1e-12)/pixels)
	tint = math.Hypot(max(0, lab.A), max(0, lab.B))
	return tint, max(0, float64(fine)/pixels-noise*noise) + coarse*coarse
}

// nearness is the weight of a neighbour by its distance across and down.
var nearness = func() (weights [roughReach + 1][roughReach + 1]float64) {
	for x := range weights {
		for y := range weights {
			weights[x][y] = 1 / float64(1+x*x+y*y)
		}
	}
	return weights
}()

// weightedMean averages the inside values around (x, y) with weights that fall with distance.
func weightedMean(values []float64, inside []bool, width, x, y int) float64 {
	sum, weights := 0.0, 0.0
	height := len(values) / width
	for v := max(0, y-roughReach); v <= min(height-1, y+roughReach); v++ {
		near := &nearness[max(v-y, y-v)]
		for u := max(0, x-roughReach); u <= min(width-1, x+roughReach); u++ {
			if inside[v*width+u] {
				weight := near[max(u-x, x-u)]
				sum += weight * values[v*width+u]
				weights += weight
			}
		}
	}
	return sum / weights
}
