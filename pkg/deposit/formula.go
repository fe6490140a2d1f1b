package deposit

import (
	"math"
	"math/rand/v2"
	"slices"
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
	draws := drawFormula(len(blocks), len(patches))
	settlePatches(patches, draws)
	value := readAll(patches, slices.Repeat([]uint16{1}, len(patches)), 0, 0)
	index, coverage := make([]float64, len(draws)), make([]float64, len(draws))
	for i, d := range draws {
		s := readAll(patches, d.times, d.crust, d.film)
		index[i], coverage[i] = s.Index()+d.miss, s.Coverage()+d.miss
	}
	return Reading{Coverage: around(value.Coverage(), coverage), Index: around(value.Index(), index)}
}

// formulaDraw is one repetition: how far the thresholds of crust and film move, in octaves, the error of the result in points, and
// how often each patch counts.
type formulaDraw struct {
	crust, film, miss float64
	times             []uint16
}

func drawFormula(blocks, patches int) []formulaDraw {
	draws, times := make([]formulaDraw, formulaDraws), make([]uint16, formulaDraws*patches)
	random := rand.New(rand.NewPCG(formulaSeed, uint64(blocks)))
	for i := range draws {
		d := &draws[i]
		d.times, times = times[:patches:patches], times[patches:]
		for range patches {
			d.times[random.IntN(patches)]++
		}
		d.crust, d.film = octavesUnsure*random.NormFloat64(), octavesUnsure*random.NormFloat64()
		d.miss = formulaError * random.NormFloat64()
	}
	return draws
}

// patched groups neighbouring blocks, given row by row, because they err together.
func patched(blocks []block) []patch {
	across := 0
	for _, b := range blocks {
		across = max(across, b.x/formulaBlock+1)
	}
	places := make([]int, across*(blocks[len(blocks)-1].y/formulaBlock+1)) // number of the patch, counted from 1
	var patches []patch
	for _, b := range blocks {
		at := b.y/formulaBlock*across + b.x/formulaBlock
		if places[at] == 0 {
			patches = append(patches, patch{open: make([]scored, 0, formulaBlock*formulaBlock)})
			places[at] = len(patches)
		}
		p := &patches[places[at]-1]
		p.open = append(p.open, score(b))
	}
	return patches
}

// patch holds the blocks that a draw may move, and the counts of those that none does.
type patch struct {
	open    []scored
	settled reads
}

// settlePatches counts once and for all the blocks that read the same under the least and the most of the thresholds drawn.
func settlePatches(patches []patch, draws []formulaDraw) {
	var least, most formulaDraw
	for i := range draws {
		d := &draws[i]
		least.crust, most.crust = min(least.crust, d.crust), max(most.crust, d.crust)
		least.film, most.film = min(least.film, d.film), max(most.film, d.film)
	}
	for i := range patches {
		p := &patches[i]
		p.open = slices.DeleteFunc(p.open, func(s scored) bool {
			read := s.read(least.crust, least.film)
			if read != s.read(most.crust, most.film) {
				return false
			}
			p.settled.add(read, 1)
			return true
		})
	}
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

// reads counts blocks: all, those read as crust, those of them as heavy, and those read as film.
type reads struct{ all, crust, heavy, film int }

func (r *reads) add(s reads, times int) {
	r.all, r.crust, r.heavy, r.film = r.all+times*s.all, r.crust+times*s.crust, r.heavy+times*s.heavy, r.film+times*s.film
}

// read reads a block after both thresholds were moved by so many octaves. What is not crust may be film.
func (s scored) read(crust, film float64) reads {
	// Comparisons become numbers, because a processor guesses badly which way they go.
	isCrust := one(s.crust > crust)
	return reads{1, isCrust, one(s.crust > crust+heavyOctave), one(s.film > film) &^ isCrust}
}

// readAll returns the shares of all patches, each counted as often as times says, under moved thresholds.
func readAll(patches []patch, times []uint16, crust, film float64) Shares {
	var all reads
	for i := range patches {
		if times[i] == 0 {
			continue
		}
		p := &patches[i]
		inCrust, inHeavy, inFilm := p.settled.crust, p.settled.heavy, p.settled.film
		for _, s := range p.open {
			read := s.read(crust, film)
			inCrust, inHeavy, inFilm = inCrust+read.crust, inHeavy+read.heavy, inFilm+read.film
		}
		all.add(reads{p.settled.all + len(p.open), inCrust, inHeavy, inFilm}, int(times[i]))
	}
	return sharesOf([4]float64{
		Bare: float64(all.all - all.crust - all.film), Film: float64(all.film),
		Medium: float64(all.crust - all.heavy), Heavy: float64(all.heavy),
	})
}

// one is 1 when a condition holds, else 0; compiled, it holds no jump.
func one(holds bool) int {
	if holds {
		return 1
	}
	return 0
}
