package photo

import (
	"image"
	"math"
)

// How wide is an edge?
//
// Light falls on two sides of an edge in two amounts; blur with sigma s makes the step between them a ramp whose
// steepest slope is A/sqrt(2 pi s2). Look at it through two Gaussian derivative filters of sigma a < b: the filters add
// their own blur, so the slopes are A/sqrt(2 pi (s2+a2)) and A/sqrt(2 pi (s2+b2)), and their ratio r does not know the
// contrast A:
//
//	r2 = (s2+b2)/(s2+a2)   so   s2 = (b2 - r2 a2)/(r2 - 1)
//
// (the idea of S. Zhuo and T. Sim, Pattern Recognition 44, 2011, with both gradients filtered against noise). Energy
// measures such as the variance of the Laplacian cannot tell a soft photo from a sharp one of a smooth valve, or noise
// from detail; an edge width can, and it has a unit.

const (
	fine, coarse = 1.0, 2.0 // sigma of the two filters, in pixels of the level
	reach        = 6        // radius of the coarse filter
	bins         = 6        // edge directions, 30 degrees each
	// gate is how many standard deviations of fine-slope noise a coarse slope must reach to count as an edge.
	gate = 6
	// faintest is the least slope, in codes per pixel, that counts: below it JPEG makes edges of its own.
	faintest = 0.5
	// mostBlocks bounds the work: more blocks than this add time, not precision.
	mostBlocks = 160
	// widest caps the variance of an edge; beyond it the ratio says only "too wide for this level".
	widest = 16.0
)

// noiseSlope is the noise of a component of the fine slope for pixel noise 1: integral of (g'(x) g(y))2 is 1/(8 pi a4).
var noiseSlope = 1 / (math.Sqrt(8*math.Pi) * fine * fine)

var fineKernel, coarseKernel = newKernel(fine, 3), newKernel(coarse, reach)

// kernel holds a sampled Gaussian and its derivative.
type kernel struct {
	radius        int
	smooth, slope []float32
}

func newKernel(sigma float64, radius int) kernel {
	k := kernel{radius: radius, smooth: make([]float32, 2*radius+1), slope: make([]float32, 2*radius+1)}
	sum, moment := 0.0, 0.0
	for i := -radius; i <= radius; i++ {
		g := math.Exp(-float64(i*i) / (2 * sigma * sigma))
		sum += g
		moment += float64(i*i) * g
	}
	for i := -radius; i <= radius; i++ {
		g := math.Exp(-float64(i*i) / (2 * sigma * sigma))
		k.smooth[i+radius] = float32(g / sum)
		k.slope[i+radius] = float32(float64(i) * g / moment) // a ramp of slope 1 gives 1
	}
	return k
}

// gradient is the Gaussian derivative at a pixel at least k.radius away from the border.
func (p plane) gradient(k kernel, x, y int) (dx, dy float64) {
	for j := range k.smooth {
		row := p.Value[(y+j-k.radius)*p.Width+x-k.radius:][:len(k.smooth)]
		var s, d float32
		for i, v := range row {
			s += v * k.smooth[i]
			d += v * k.slope[i]
		}
		dx += float64(d * k.smooth[j])
		dy += float64(s * k.slope[j])
	}
	return dx, dy
}

// edge is one place where luma steps.
type edge struct {
	bin   int     // direction across the edge, in units of 180/bins degrees from the x axis, clockwise as seen
	ratio float64 // r2 above
}

// edges finds in each block that touches the valve the steepest place of every direction, and measures it. grain is the
// plane's noise in codes.
//
// Steepest is judged through the coarse filter and its like: a place chosen for its fine slope would be chosen for its
// noise, and look sharp.
func (p plane) edges(block int, grain float64) []edge {
	least := max(faintest, gate*noiseSlope*grain)
	var found []edge
	for _, corner := range p.sampled(block) {
		for bin, at := range p.steepest(corner, block, least) {
			if at < 0 {
				continue
			}
			if ratio, ok := p.ratio(at%p.Width, at/p.Width, least, grain); ok {
				found = append(found, edge{bin, ratio})
			}
		}
	}
	return found
}

// sampled returns the corners of at most about mostBlocks blocks that touch the valve, evenly spread.
func (p plane) sampled(block int) []image.Point {
	var corners []image.Point
	p.blocks(block, func(x0, y0 int) {
		if p.touchesValve(x0, y0, block) {
			corners = append(corners, image.Pt(x0, y0))
		}
	})
	stride := (len(corners) + mostBlocks - 1) / mostBlocks
	if stride <= 1 {
		return corners
	}
	kept := corners[:0]
	for i := 0; i < len(corners); i += stride {
		kept = append(kept, corners[i])
	}
	return kept
}

// ratio is the squared ratio of the slopes at a pixel, less what noise adds to it; false when the slope drowns in noise
// or touches glare, whose clipped rim is sharper than the picture.
func (p plane) ratio(x, y int, least, grain float64) (r2 float64, ok bool) {
	for dy := -2; dy <= 2; dy++ {
		for _, v := range p.Value[(y+dy)*p.Width+x-2:][:5] {
			if v >= glareCode {
				return 0, false
			}
		}
	}
	b := math.Hypot(p.gradient(coarseKernel, x, y))
	if b < least {
		return 0, false
	}
	a := math.Hypot(p.gradient(fineKernel, x, y))
	extra := noiseSlope * grain
	return (a*a - 2*extra*extra) / (b * b), true
}

// variance turns r2 into the variance of the blur, 0 to widest, in pixels of the level squared.
func variance(r2 float64) float64 {
	if r2 <= (widest+coarse*coarse)/(widest+fine*fine) {
		return widest
	}
	return max(0, (coarse*coarse-r2*fine*fine)/(r2-1))
}
