package photo

import (
	"image"
	"math"
	"slices"

	"valvegrade/pkg/colour"
)

const (
	// blackCode and glareCode are the lumas at and beyond which a pixel has no detail left. JPEG and the sensor's own
	// noise move a clipped 0 or 255 by some codes.
	blackCode = 4
	glareCode = 245
	// noiseFloor is the least noise in codes that a pixel is given: rounding to 8 bits and JPEG hide true noise in the
	// dark, so a measured zero does not mean a clean signal.
	noiseFloor = 1.0
	// noiseCells is the side, in pixels, of the blocks on which noise is measured.
	noiseCells = 8
)

func lumaAt(img *image.NRGBA, x, y int) float64 {
	pix := img.Pix[y*img.Stride+4*x:]
	return redShare*float64(pix[0]) + greenShare*float64(pix[1]) + blueShare*float64(pix[2])
}

// exposure returns the mean luminance of the valve and its shares of black and of burnt-out pixels.
func exposure(f frame) (luminance, black, glare float64) {
	var histogram [256]int
	for i, v := range f.Value {
		if f.Inside[i] {
			histogram[min(255, int(v+0.5))]++
		}
	}
	n := float64(f.valvePixels)
	for code, count := range histogram {
		share := float64(count) / n
		luminance += share * colour.Linear(uint8(code))
		if code <= blackCode {
			black += share
		}
		if code >= glareCode {
			glare += share
		}
	}
	return luminance, black, glare
}

// signal is the tonal range of the valve over the noise of a pixel: the range between the 5th and the 95th percentile
// of 4x4 block means. grain is the noise in codes. NaN when the valve holds no whole block.
func signal(f frame, grain float64) float64 {
	const side = 4
	var means []float64
	f.blocks(side, func(x0, y0 int) {
		if mean, whole := f.valveMean(x0, y0, side); whole {
			means = append(means, mean)
		}
	})
	if len(means) == 0 {
		return math.NaN()
	}
	slices.Sort(means)
	spread := quantile(means, 0.95) - quantile(means, 0.05)
	return spread / math.Hypot(grain, noiseFloor)
}

// blocks calls visit with the corner of each whole block of that side.
func (p plane) blocks(side int, visit func(x0, y0 int)) {
	for y := 0; y+side <= p.Height; y += side {
		for x := 0; x+side <= p.Width; x += side {
			visit(x, y)
		}
	}
}

// valveMean is the mean luma of a block, and whether all of it is valve.
func (p plane) valveMean(x0, y0, side int) (mean float64, whole bool) {
	sum := float32(0)
	for y := y0; y < y0+side; y++ {
		for x := x0; x < x0+side; x++ {
			if !p.Inside[y*p.Width+x] {
				return 0, false
			}
			sum += p.Value[y*p.Width+x]
		}
	}
	return float64(sum) / float64(side*side), true
}

// noise is the standard deviation of pixel noise in codes, by J. Immerkaer, Computer Vision and Image Understanding 64
// (1996): a mask blind to constant and linear shading, |residual| averaged. It is taken on the smoothest fifth of the
// blocks that touch the valve, where there is no texture to mistake for noise; clipped blocks, noise-free by force, are
// left out. 0 when there is no block to measure.
func noise(p plane) float64 {
	var levels []float64
	p.blocks(noiseCells, func(x0, y0 int) {
		centre := p.Value[(y0+noiseCells/2)*p.Width+x0+noiseCells/2]
		if centre > 2*blackCode && centre < glareCode && p.touchesValve(x0, y0, noiseCells) {
			levels = append(levels, p.roughness(x0, y0))
		}
	})
	if len(levels) == 0 {
		return 0
	}
	slices.Sort(levels)
	return quantile(levels, 0.2)
}

// roughness is Immerkaer's estimate on one block.
func (p plane) roughness(x0, y0 int) float64 {
	sum := float32(0)
	for y := y0 + 1; y < y0+noiseCells-1; y++ {
		up, row, down := p.Value[(y-1)*p.Width:], p.Value[y*p.Width:], p.Value[(y+1)*p.Width:]
		for x := x0 + 1; x < x0+noiseCells-1; x++ {
			r := up[x-1] - 2*up[x] + up[x+1] - 2*(row[x-1]-2*row[x]+row[x+1]) + down[x-1] - 2*down[x] + down[x+1]
			sum += max(r, -r)
		}
	}
	inner := float64((noiseCells - 2) * (noiseCells - 2))
	return math.Sqrt(math.Pi/2) / 6 * float64(sum) / inner
}

// touchesValve samples a block at every second pixel.
func (p plane) touchesValve(x0, y0, side int) bool {
	for y := y0; y < y0+side; y += 2 {
		for x := x0; x < x0+side; x += 2 {
			if p.Inside[y*p.Width+x] {
				return true
			}
		}
	}
	return false
}

// quantile of sorted values, nearest rank below. Panics on an empty slice.
func quantile(sorted []float64, q float64) float64 { return sorted[int(q*float64(len(sorted)-1))] }
