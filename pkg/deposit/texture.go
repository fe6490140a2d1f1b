package deposit

import (
	"bytes"
	"math"

	"valvegrade/pkg/colour"
	"valvegrade/pkg/texture"
)

// greyLevels is the number of co-occurrence levels over L* 0..100.
const greyLevels = 32

// patternPixels is about how many pixels are looked at for local binary patterns.
const patternPixels = 6000

var circle = texture.NewCircle(8, 1)

// texture describes the evened luminance of all readable pixels.
func (v *view) texture(r relief) Texture {
	levels := texture.Levels{
		Width: v.width, Height: v.height, Count: greyLevels,
		Pix: bytes.Repeat([]byte{texture.Outside}, len(v.inside)),
	}
	for _, i := range v.pixels {
		lightness := colour.Lightness(min(1, metalLuminance*float64(v.luminance[i])))
		levels.Pix[i] = uint8(min(greyLevels-1, lightness*greyLevels/100))
	}
	pairs := texture.MeanCoOccurrence(levels)
	step := max(1, int(math.Sqrt(float64(len(v.pixels))/patternPixels)))
	return Texture{
		ContrastGLCM: pairs.Contrast, EntropyBits: pairs.EntropyBits,
		CorrelationGLCM: pairs.Correlation, HomogeneityGLCM: pairs.Homogeneity,
		LBPEntropyBits: circle.PatternEntropy(r.finePlane, step),
		ReliefFine:     r.fine.Energy(r.finePlane),
		ReliefCoarse:   r.coarse.Energy(r.coarsePlane),
	}
}
