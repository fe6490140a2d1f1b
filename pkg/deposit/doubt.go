package deposit

import (
	"image"
	"math"
	"math/rand/v2"
	"slices"

	"valvegrade/pkg/region"
)

// Intervals are the 95 % intervals of coverage and index, by region. Intervals of a region without readable pixels are NaN.
type Intervals struct {
	Both, Head, Stem struct{ Coverage, Index Interval }
}

// Doubt returns the 95 % intervals of the figures that the map of classes gives. It is a pure function: the same region, map
// and calibration give the same intervals.
//
// The whole measurement is repeated Calibration.Draws times on the evidence's grid, each time with other steps, another
// outline, blocks of cells drawn anew with replacement (Kunsch, "The jackknife and the bootstrap for general stationary
// observations", Annals of Statistics 17 (1989)) and the error that the net expects of itself. The 2.5 % and 97.5 % quantiles
// bound the interval, after the draws were moved by what the grid itself differs from the photo, within 0 to 100, and
// widened to hold the value where they do not.
func Doubt(r *region.Region, classes *image.Gray, c Calibration) Intervals {
	head, stem := count(r.Mask, classes, r.Bounds())
	return doubt(r, classes, head, stem, c)
}

func doubt(r *region.Region, classes *image.Gray, head, stem tally, c Calibration) Intervals {
	blocks := cellsOf(r, classes, c.Block)
	times := slices.Repeat([]int{1}, len(blocks))
	base := measureCells(blocks, times, shift{})
	draws := make([][3]Shares, c.Draws)
	errors := make([]float64, c.Draws)
	random := rand.New(rand.NewPCG(c.Seed, uint64(len(blocks))))
	for i := range draws {
		moved := shift{outline: float32(c.Outline * random.NormFloat64())}
		common := c.Common * random.NormFloat64()
		for k := range moved.steps {
			moved.steps[k] = float32(common + c.Own*random.NormFloat64())
		}
		errors[i] = 100 * r.Evidence.Frame.IndexError * random.NormFloat64()
		clear(times)
		for range blocks {
			times[random.IntN(len(blocks))]++
		}
		draws[i] = measureCells(blocks, times, moved)
	}

	var all Intervals
	for part, tally := range [3]tally{head.plus(stem), head, stem} {
		shares := tally.figures().Shares
		of := func(figure func(Shares) float64, weight float64) Interval {
			values := make([]float64, c.Draws)
			for i := range draws {
				values[i] = figure(draws[i][part]) - figure(base[part]) + figure(shares) + weight*errors[i]
			}
			return around(figure(shares), values)
		}
		into := [3]*struct{ Coverage, Index Interval }{&all.Both, &all.Head, &all.Stem}[part]
		into.Coverage = of(Shares.Coverage, c.DirectCoverage)
		into.Index = of(Shares.Index, c.Direct)
	}
	return all
}

// shift is what one draw changes: the steps and the outline, in logits.
type shift struct {
	steps   [3]float32
	outline float32
}

// measureCells returns the shares of both, head and stem, each block counted as often as times says.
func measureCells(blocks []cellBlock, times []int, s shift) [3]Shares {
	var head, stem [4]float64
	for i, block := range blocks {
		if times[i] == 0 {
			continue
		}
		inHead, inStem := countCells(block.head, s), countCells(block.stem, s)
		for class := range head {
			head[class] += float64(times[i] * inHead[class])
			stem[class] += float64(times[i] * inStem[class])
		}
	}
	both := head
	for class, weight := range stem {
		both[class] += weight
	}
	return [3]Shares{sharesOf(both), sharesOf(head), sharesOf(stem)}
}

// countCells sums the weights of cells by class. A step counts only when those before it do, and a cell only inside the outline.
// Weights are masked, not chosen by jumps: which way a cell goes is what a processor cannot guess.
func countCells(cells []cell, s shift) [4]int {
	var all, film, medium, heavy int
	for i := range cells {
		c := &cells[i]
		here := c.weight & -one(c.edge+s.outline >= 0)
		atLeastFilm := here & -one(c.steps[0]+s.steps[0] > 0)
		atLeastMedium := atLeastFilm & -one(c.steps[1]+s.steps[1] > 0)
		isHeavy := atLeastMedium & -one(c.steps[2]+s.steps[2] > 0)
		all, film, medium, heavy = all+here, film+atLeastFilm, medium+atLeastMedium, heavy+isHeavy
	}
	return [4]int{Bare: all - film, Film: film - medium, Medium: medium - heavy, Heavy: heavy}
}

func sharesOf(weights [4]float64) Shares {
	sum := weights[Bare] + weights[Film] + weights[Medium] + weights[Heavy]
	return Shares{weights[Bare] / sum, weights[Film] / sum, weights[Medium] / sum, weights[Heavy] / sum}
}

// around returns the 95 % interval of the values, NaN left out, widened to hold value and cut to 0..100.
func around(value float64, values []float64) Interval {
	if math.IsNaN(value) {
		return unmeasured
	}
	values = slices.DeleteFunc(values, math.IsNaN)
	if len(values) == 0 {
		return Interval{value, 0, 100}
	}
	slices.Sort(values)
	low, high := quantile(values, 0.025), quantile(values, 0.975)
	return Interval{value, max(0, min(value, low)), min(100, max(value, high))}
}

// quantile interpolates between sorted values (type 7 of Hyndman & Fan, The American Statistician 50 (1996)).
func quantile(sorted []float64, share float64) float64 {
	at := share * float64(len(sorted)-1)
	i := int(at)
	if i+1 == len(sorted) {
		return sorted[i]
	}
	return sorted[i] + (at-float64(i))*(sorted[i+1]-sorted[i])
}
