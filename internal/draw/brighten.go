package draw

import (
	"image"
	"math"

	"valvegrade/pkg/deposit"
)

// A valve far down a port gets a few grey levels of its photo, and on black one tint looks like another: there what lies
// within the outlines goes through a power curve before it is tinted.
const (
	// darkMedian is what the brightest channel of half of the valves' pixels stays below in such a photo, of 0 to 1, and
	// litMedian what it is brought to.
	darkMedian, litMedian = 0.25, 0.4
	// strongest is the lowest exponent of the curve: a lower one would show noise.
	strongest = 0.45
)

// curve returns the exponent that brings the valves of the picture to litMedian; 1 where they are not in the dark.
func (s *scene) curve(picture *image.RGBA) float64 {
	var levels [256]int
	pixels := 0
	for y := range s.height {
		row, pix := s.classes[y*s.width:][:s.width], picture.Pix[y*picture.Stride:]
		for x, class := range row {
			if class == deposit.NotValve {
				continue
			}
			p := pix[4*x:][:3]
			levels[max(p[0], p[1], p[2])]++
			pixels++
		}
	}
	code, below := 0, levels[0]
	for 2*below < pixels {
		code++
		below += levels[code]
	}
	median := max(float64(code), 0.5) / 255
	if median >= darkMedian {
		return 1
	}
	return max(strongest, math.Log(litMedian)/math.Log(median))
}

// after is the glaze over light that went through the power curve of this exponent first.
func (g glaze) after(exponent float64) (brighter glaze) {
	for code := range 256 {
		lit := int(255*math.Pow(float64(code)/255, exponent) + 0.5)
		for k := range g {
			brighter[k][code] = g[k][lit]
		}
	}
	return brighter
}
