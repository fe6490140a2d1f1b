package deposit

import (
	"bytes"
	"math"
	"sync"

	"valvegrade/pkg/colour"
	"valvegrade/pkg/texture"
)

// Texture describes the relief of the readable valve surface. NaN when not measured. Co-occurrence figures are means
// over the four angles 0, 45, 90 and 135 degrees at distance 1 on 32 grey levels (Haralick, Shanmugam & Dinstein 1973).
type Texture struct {
	ContrastGLCM    float64 // 0 .. 31^2
	EntropyBits     float64 // 0 .. 10
	CorrelationGLCM float64 // -1 .. 1
	HomogeneityGLCM float64 // 0 .. 1, mean of 1/(1+d^2)
	LBPEntropyBits  float64 // 0 .. log2(10), entropy of the riu2 histogram (Ojala, Pietikainen & Maenpaa 2002), P=8 R=1
	ReliefFine      float64 // standard deviation of the band 1-2 px of normalised luminance, share of its mean
	ReliefCoarse    float64 // the same for the band 4-8 px
}

// greyLevels is the number of co-occurrence levels over L* 0..100.
const greyLevels = 32

// patternPixels is about how many pixels are looked at for local binary patterns.
const patternPixels = 6000

var circle = texture.NewCircle(8, 1)

// greyLevel is the co-occurrence level of a lightness.
func greyLevel(lightness float64) uint8 {
	return uint8(max(0, min(greyLevels-1, lightness*greyLevels/100)))
}

const notSure = greyLevels

// sureLevels tells the level of a luminance by which 4096th of the range 0 to 1 it lies in, or notSure where two levels
// share that part.
var sureLevels = sync.OnceValue(func() *[4096]uint8 {
	const rounding = 1e-9 // of a lightness, and much more than that
	var table [4096]uint8
	for i := range table {
		from, to := colour.Lightness(float64(i)/4096), colour.Lightness(float64(i+1)/4096)
		table[i] = greyLevel(from - rounding)
		if table[i] != greyLevel(to+rounding) {
			table[i] = notSure
		}
	}
	return &table
})

// texture describes the evened luminance of all readable pixels.
func (v *view) texture(r relief) Texture {
	levels := texture.Levels{
		Width: v.Width, Height: v.Height, Count: greyLevels,
		Pix: bytes.Repeat([]byte{texture.Outside}, len(v.Inside)),
	}
	sure := sureLevels()
	for _, i := range v.pixels {
		luminance := min(1, metalLuminance*float64(v.Value[i]))
		level := sure[min(len(sure)-1, int(luminance*float64(len(sure))))]
		if level == notSure {
			level = greyLevel(colour.Lightness(luminance))
		}
		levels.Pix[i] = level
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
