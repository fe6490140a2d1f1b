package deposit

import (
	"math"
	"math/rand/v2"
)

// The formula knows three things that need no training:
//
//   - crust is rough: its grains shade and shadow each other, so luminance varies by a tenth or more within millimetres, while turned,
//     ground, nitrided or heat-tinted metal is smooth, however dark or coloured it is. A glint on wet crust is small and its
//     surroundings rough, so relief, not brightness, decides;
//   - of two equally rough places the darker one carries more, because thick crust traps light;
//   - a film has no relief but tints towards yellow and brown against the valve's own cleanest metal.
//
// It misreads what breaks these rules: mirrored surroundings and tool marks look rough, soft focus smooths crust away, a film
// or a heat tint all over the valve looks like its metal. Its interval is as wide as that makes it.
const (
	roughCrust  = 0.10 // relief at which smooth ends and crust begins, as a share of luminance
	darkHelps   = 0.25 // octaves of relief that one stop of darkness is worth
	heavyOctave = 0.5  // octaves of score above the beginning of crust at which heavy begins
	tintFilm    = 6.0  // units of CIELAB

	// The thresholds above are round values near the best of 300 combinations tried on 37 rendered valves of two looks
	// (scripts/scenes, families 1 and 2, seeds 777 and 99, with blur, noise and JPEG added); the best were nearly alike, so each is known to
	// about a third (half an octave). The rules themselves miss by more: on those same valves the index was off by 23 points on
	// average. formulaError, the spread added to index and coverage, makes the interval hold the truth on 35 of them. Other
	// valves may do worse than the ones the values were chosen on.
	octavesUnsure = 0.5
	formulaError  = 28.0
	formulaDraws  = 100
	formulaSeed   = 2
	formulaBlock  = 8 // blocks of this many blocks a side are drawn anew together
)

// formula reads coverage and index from colour and relief alone.
func (v *view) formula(r relief) Reading {
	blocks := v.blocks(r)
	if len(blocks) == 0 {
		return Reading{unmeasured, unmeasured}
	}
	patches := patched(blocks)
	once := make([]int, len(patches))
	for i := range once {
		once[i] = 1
	}
	value := readAll(patches, once, 0, 0)

	random := rand.New(rand.NewPCG(formulaSeed, uint64(len(blocks))))
	index, coverage := make([]float64, formulaDraws), make([]float64, formulaDraws)
	times := make([]int, len(patches))
	for i := range index {
		clear(times)
		for range patches {
			times[random.IntN(len(patches))]++
		}
		s := readAll(patches, times, octavesUnsure*random.NormFloat64(), octavesUnsure*random.NormFloat64())
		miss := formulaError * random.NormFloat64()
		index[i], coverage[i] = s.Index()+miss, s.Coverage()+miss
	}
	return Reading{Coverage: around(value.Coverage(), coverage), Index: around(value.Index(), index)}
}

// patched groups neighbouring blocks, given row by row, because they err together.
func patched(blocks []block) [][]scored {
	across := 0
	for _, b := range blocks {
		across = max(across, b.x/formulaBlock+1)
	}
	places := make([]int, across*(blocks[len(blocks)-1].y/formulaBlock+1)) // number of the patch, counted from 1
	var patches [][]scored
	for _, b := range blocks {
		at := b.y/formulaBlock*across + b.x/formulaBlock
		if places[at] == 0 {
			patches = append(patches, make([]scored, 0, formulaBlock*formulaBlock))
			places[at] = len(patches)
		}
		patch := &patches[places[at]-1]
		*patch = append(*patch, score(b))
	}
	return patches
}

// scored is a block in octaves above the thresholds of crust and of film.
type scored struct {
	crust, film float64
}

func score(b block) scored {
	const least = 1e-6 // keeps the logarithm finite
	return scored{
		crust: math.Log2(max(b.rough, least)/roughCrust) + darkHelps*b.dark,
		film:  math.Log2(max(b.tint, least) / tintFilm),
	}
}

// readAll returns the shares of all patches, each counted as often as times says, after both thresholds were moved by so many
// octaves. What is not crust may be film.
func readAll(patches [][]scored, times []int, crust, film float64) Shares {
	var all, heavy, crusted, filmed int
	for i, patch := range patches {
		if times[i] == 0 {
			continue
		}
		// Comparisons are summed as numbers, because a processor guesses badly which way they go.
		inHeavy, inCrust, inFilm := 0, 0, 0
		for _, s := range patch {
			isCrust := one(s.crust > crust)
			inCrust += isCrust
			inHeavy += one(s.crust > crust+heavyOctave)
			inFilm += one(s.film > film) &^ isCrust
		}
		all += times[i] * len(patch)
		heavy += times[i] * inHeavy
		crusted += times[i] * inCrust
		filmed += times[i] * inFilm
	}
	return sharesOf([4]float64{
		Bare: float64(all - crusted - filmed), Film: float64(filmed), Medium: float64(crusted - heavy), Heavy: float64(heavy),
	})
}

// one is 1 when a condition holds, else 0; compiled, it holds no jump.
func one(holds bool) int {
	if holds {
		return 1
	}
	return 0
}
