package texture

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
)

// wave returns a square picture of mean 1 with ripples of the given amplitude and wavelength in pixels.
func wave(side int, amplitude, length float64) Picture {
	p := Picture{Width: side, Height: side, Value: make([]float32, side*side)}
	for i := range p.Value {
		p.Value[i] = float32(1 + amplitude*math.Sin(2*math.Pi*float64(i%side)/length))
	}
	return p
}

func TestReliefOfARippleIsWhatTheFiltersPass(t *testing.T) {
	const amplitude, length = 0.1, 8.0
	p := wave(128, amplitude, length)
	// The weights 1 4 6 4 1 pass cos(half the phase)^4 of a ripple; the picture's borders cost under 2 %.
	pass := func(apart float64) float64 { return math.Pow(math.Cos(math.Pi*apart/length), 4) }
	want := amplitude / math.Sqrt2 * (pass(1) - pass(1)*pass(2))
	assert.InEpsilon(t, want, DetailOf(p).Energy(p), 0.02)
}

func TestReliefDoesNotDependOnExposure(t *testing.T) {
	p := wave(64, 0.1, 7)
	bright := Picture{Width: 64, Height: 64, Value: make([]float32, len(p.Value))}
	for i, v := range p.Value {
		bright.Value[i] = 3 * v
	}
	assert.InEpsilon(t, DetailOf(p).Energy(p), DetailOf(bright).Energy(bright), 1e-4, "float32 sums")
}

func TestTheMaskMakesNoRelief(t *testing.T) {
	p := wave(64, 0, 8)
	p.Inside = make([]bool, len(p.Value))
	random := rand.New(rand.NewPCG(3, 4))
	for i := range p.Inside {
		p.Inside[i] = random.IntN(3) > 0
		if !p.Inside[i] {
			p.Value[i] = 50
		}
	}
	assert.InDelta(t, 0, DetailOf(p).Energy(p), 1e-6, "a flat surface full of holes; float32 sums")
}

func TestCoarseRipplesShowInTheReducedPicture(t *testing.T) {
	fine, coarse := wave(128, 0.1, 6), wave(128, 0.1, 24)
	assert.Greater(t, DetailOf(fine).Energy(fine), 3*DetailOf(coarse).Energy(coarse))
	fine, coarse = fine.Reduce(4), coarse.Reduce(4)
	assert.Greater(t, DetailOf(coarse).Energy(coarse), 3*DetailOf(fine).Energy(fine))
}

func TestNoReliefWithoutPixels(t *testing.T) {
	p := Picture{Width: 2, Height: 2, Value: make([]float32, 4), Inside: make([]bool, 4)}
	assert.True(t, math.IsNaN(DetailOf(p).Energy(p)))
}

func TestReduceAveragesWhatIsInside(t *testing.T) {
	p := Picture{Width: 5, Height: 2, Value: []float32{
		1, 2, 9, 5, 7,
		3, 6, 9, 9, 7,
	}, Inside: []bool{
		true, true, false, true, true,
		true, true, false, false, true,
	}}
	small := p.Reduce(2)
	assert.Equal(t, []float32{3, 0}, small.Value)
	assert.Equal(t, []bool{true, false}, small.Inside, "a quarter of the second block is too little")
	assert.Equal(t, [2]int{2, 1}, [2]int{small.Width, small.Height}, "the odd column is dropped")
}
