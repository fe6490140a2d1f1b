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
	for i, in := range plane.Inside {
		if in {
			energy[i] = v.blockEnergy(r, i)
		}
	}
	var found []block
	for i, in := range plane.Inside {
		if !in {
			continue
		}
		x, y := i%plane.Width, i/plane.Width
		found = append(found, block{
			x: x, y: y,
			dark:  max(0, min(deepest, -math.Log2(max(float64(plane.Value[i]), 1e-9)))),
			rough: math.Sqrt(weightedMean(energy, plane.Inside, plane.Width, x, y)),
			tint:  v.tint(plane.Width, i),
		})
	}
	return found
}

// blockEnergy returns the variance of both bands as a share of the local mean, less what noise makes.
func (v *view) blockEnergy(r relief, i int) float64 {
	fine, seen, count := 0.0, 0.0, 0.0
	v.eachOf(r.coarsePlane.Width, i, func(j int) {
		if base := r.fine.Base[j]; base > 0 {
			share := float64(r.fine.Band[j] / base)
			fine += share * share
			seen += float64(v.seen[j])
			count++
		}
	})
	coarse := 0.0
	if base := r.coarse.Base[i]; base > 0 {
		coarse = float64(r.coarse.Band[i] / base)
	}
	// The slope of the sRGB curve: one code is this share of the luminance.
	code := 2.4 / 255 / (colour.Encode(seen/count) + 0.055)
	noise := noiseCodes * code
	return max(0, fine/count-noise*noise) + coarse*coarse
}

// tint returns the distance from grey of a block's mean colour where it leans to red and yellow.
func (v *view) tint(across, i int) float64 {
	var light [3]float64
	seen, evened, count := 0.0, 0.0, 0.0
	v.eachOf(across, i, func(j int) {
		for channel := range light {
			light[channel] += float64(v.light[channel][j])
		}
		seen += float64(v.seen[j])
		evened += float64(v.luminance[j])
		count++
	})
	lab := v.labOf(light, evened/max(seen, 1e-12)/count)
	return math.Hypot(max(0, lab.A), max(0, lab.B))
}

// eachOf calls do for the inside pixels of block i.
func (v *view) eachOf(across, i int, do func(j int)) {
	left, top := i%across*coarser, i/across*coarser
	for y := top; y < top+coarser; y++ {
		for j := y*v.width + left; j < y*v.width+left+coarser; j++ {
			if v.inside[j] {
				do(j)
			}
		}
	}
}

// weightedMean averages the inside values around (x, y) with weights that fall with distance.
func weightedMean(values []float64, inside []bool, width, x, y int) float64 {
	sum, weights := 0.0, 0.0
	height := len(values) / width
	for v := max(0, y-roughReach); v <= min(height-1, y+roughReach); v++ {
		for u := max(0, x-roughReach); u <= min(width-1, x+roughReach); u++ {
			if inside[v*width+u] {
				weight := 1 / float64(1+(u-x)*(u-x)+(v-y)*(v-y))
				sum += weight * values[v*width+u]
				weights += weight
			}
		}
	}
	return sum / weights
}
