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
	base := measureCells(blocks, nil, shift{})
	draws := make([][3]Shares, c.Draws)
	errors := make([]float64, c.Draws)
	random := rand.New(rand.NewPCG(c.Seed, uint64(len(blocks))))
	times := make([]int, len(blocks))
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

// measureCells returns the shares of both, head and stem, each block counted as often as times says (nil: once).
func measureCells(blocks [][]cell, times []int, s shift) [3]Shares {
	var weights [3][4]float64 // by label and class
	for b, block := range blocks {
		repeated := 1.0
		if times != nil {
			repeated = float64(times[b])
		}
		if repeated == 0 {
			continue
		}
		for i := range block {
			c := &block[i]
			if c.edge+s.outline < 0 {
				continue
			}
			// A step counts only when those before it do. Summed without jumps, which a processor guesses badly.
			film := one(c.steps[0]+s.steps[0] > 0)
			medium := film & one(c.steps[1]+s.steps[1] > 0)
			heavy := medium & one(c.steps[2]+s.steps[2] > 0)
			weights[c.label][film+medium+heavy] += repeated * float64(c.weight)
		}
	}
	head, stem := weights[region.Head], weights[region.Stem]
	both := head
	for class, weight := range stem {
		both[class] += weight
	}
	return [3]Shares{sharesOf(both), sharesOf(head), sharesOf(stem)}
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
