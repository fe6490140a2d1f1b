package texture

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"
)

// What is left out as known must be just what the formula gives without any such knowledge.
func TestNothingIsLostByWhatIsNotComputed(t *testing.T) {
	random := rand.New(rand.NewPCG(5, 6))
	for range 200 {
		p := maskedNoise(random)
		want, got := plainDetail(p), DetailOf(p)
		require.Equal(t, want.Band, got.Band)
		require.Equal(t, want.Base, got.Base)
	}
}

// maskedNoise is a picture of noise within a disc, which may be cut by the border and have holes.
func maskedNoise(random *rand.Rand) Picture {
	p := Picture{Width: 1 + random.IntN(50), Height: 1 + random.IntN(50)}
	x, y, radius, holes := random.IntN(p.Width), random.IntN(p.Height), random.IntN(40), random.IntN(2)
	for i := range p.Width * p.Height {
		dx, dy := i%p.Width-x, i/p.Width-y
		p.Value = append(p.Value, random.Float32())
		p.Inside = append(p.Inside, dx*dx+dy*dy <= radius*radius && holes*random.IntN(30) != 1)
	}
	return p
}

// plainDetail is the formula of DetailOf, pixel by pixel.
func plainDetail(p Picture) Detail {
	value, weight := make([]float32, len(p.Value)), make([]float32, len(p.Value))
	for i, in := range p.Inside {
		if in {
			value[i], weight[i] = p.Value[i], 1
		}
	}
	blur := func(plane []float32, apart int) []float32 {
		return plainBlur(plainBlur(plane, p.Width, apart, 0), p.Width, 0, apart)
	}
	value, weight = blur(value, 1), blur(weight, 1)
	wideValue, wideWeight := blur(value, 2), blur(weight, 2)
	d := Detail{make([]float32, len(value)), make([]float32, len(value))}
	for i, in := range p.Inside {
		if in {
			d.Base[i] = wideValue[i] / wideWeight[i]
			d.Band[i] = value[i]/weight[i] - d.Base[i]
		}
	}
	return d
}

func plainBlur(plane []float32, width, right, down int) []float32 {
	at := func(i, steps int) float32 {
		x, y := i%width+steps*right, i/width+steps*down
		if x < 0 || y < 0 || x >= width || y >= len(plane)/width {
			return 0
		}
		return plane[y*width+x]
	}
	out := make([]float32, len(plane))
	for i := range out {
		out[i] = 6.0/16*at(i, 0) + 4.0/16*(at(i, -1)+at(i, 1)) + 1.0/16*(at(i, -2)+at(i, 2))
	}
	return out
}
