package deposit

import (
	"image"
	"slices"

	"valvegrade/pkg/grade"
	"valvegrade/pkg/measure"
	"valvegrade/pkg/region"
)

// Certainty is how sure the figures of a map of classes are. What has no readable pixels is NaN.
type Certainty struct {
	// Both, Head and Stem hold the figures with their 95 % intervals.
	Both, Head, Stem measure.Reading
	// Grades are the probabilities of the grades of the whole valve.
	Grades grade.Probabilities
	// Heavy says how thick the dark deposit of the whole valve is.
	Heavy MostlyHeavy
	// Draws are the repetitions from which all of it follows.
	Draws Draws
}

// Doubt returns the certainty of the figures that the map of classes gives. It is a pure function: the same region, map
// and calibration give the same.
//
// This is a block bootstrap: the whole measurement is repeated Calibration.Draws times on the evidence's grid, each
// time with other steps, another outline, blocks of cells drawn anew with replacement (Kunsch, "The jackknife and the
// bootstrap for general stationary observations", Annals of Statistics 17 (1989)) and the error that the net expects of
// itself. Draws count by what the net's own opinion of the grade holds of theirs: importance weights (Smith & Gelfand,
// "Bayesian statistics without tears", The American Statistician 46 (1992)). The weighted 2.5 % and 97.5 % quantiles
// bound the interval, after the draws were moved by what the grid itself differs from the photo, within 0 to 100, and
// widened to hold the value where they do not; the weights of the draws in each grade are its probability.
func Doubt(r *region.Region, classes *image.Gray, c Calibration) Certainty {
	head, stem := count(r.Mask, classes, r.Bounds())
	return doubt(r, classes, head, stem, c)
}

func doubt(r *region.Region, classes *image.Gray, head, stem tally, c Calibration) Certainty {
	blocks, frame := cellsOf(r, classes, c.Block), &r.Evidence.Frame
	draws := drawAll(c, len(blocks), diceOf(c, head, stem))
	settle(blocks, draws)
	base := measureCells(blocks, slices.Repeat([]uint16{1}, len(blocks)), shift{})
	drawn := make([][3]measure.Shares, len(draws))
	for i := range draws {
		drawn[i] = measureCells(blocks, draws[i].times, draws[i].shift)
	}
	// values are those of a figure in all draws, given the weight of the net's error; NaN where nothing was readable.
	values := func(part int, shares measure.Shares, figure func(measure.Shares) float64, error float64) []float64 {
		values := make([]float64, len(draws))
		for i := range draws {
			value := figure(drawn[i][part]) - figure(base[part]) + figure(shares) + error*draws[i].error
			values[i] = clamped(value)
		}
		return values
	}

	both := head.plus(stem).figures().Shares
	direct := c.Direct * 100 * frame.IndexError
	directDark, directCoverage := c.DirectDark*100*frame.DarkError, c.DirectCoverage*100*frame.IndexError
	indices := values(0, both, measure.Shares.Index, direct)
	b := beliefOf(indices, frame.Grades, c.Trust)
	certainty := Certainty{Grades: b.grades(indices, c.Temper), Draws: Draws{
		Index: indices, Dark: values(0, both, measure.Shares.Dark, directDark),
		Coverage: values(0, both, measure.Shares.Coverage, directCoverage), Weight: b,
	}}
	for part, tally := range [3]tally{head.plus(stem), head, stem} {
		shares := tally.figures().Shares
		of := func(figure func(measure.Shares) float64, error float64) measure.Figure {
			return b.around(figure(shares), values(part, shares, figure, error))
		}
		into := [3]*measure.Reading{&certainty.Both, &certainty.Head, &certainty.Stem}[part]
		into.Index = of(measure.Shares.Index, direct)
		into.Dark = of(measure.Shares.Dark, directDark)
		into.Coverage = of(measure.Shares.Coverage, directCoverage)
		*into = into.Consistent()
	}
	certainty.Heavy = b.mostlyHeavy(both, certainty.Draws.thick(values(0, both, measure.Shares.Thick, 0)))
	return certainty
}

// draw is one repetition: what it moves, the error that the net expects of itself in standard deviations, and how often
// each block counts.
type draw struct {
	shift shift
	error float64
	times []uint16
}

// shift is what one draw changes: the steps and the outline, in logits.
type shift struct {
	steps   [3]float32
	outline float32
}

func drawAll(c Calibration, blocks int, dice dice) []draw {
	draws, times := make([]draw, c.Draws), make([]uint16, c.Draws*blocks)
	for i := range draws {
		d := &draws[i]
		d.shift.outline = float32(c.Outline * dice.normal())
		common := c.Common * dice.normal()
		for k := range d.shift.steps {
			d.shift.steps[k] = float32(common + c.Own*dice.normal())
		}
		d.error = dice.normal()
		d.times, times = times[:blocks:blocks], times[blocks:]
		for range blocks {
			d.times[dice.own.IntN(blocks)]++
		}
	}
	return draws
}

// settle counts once and for all the cells that have the same class in each draw, because they have it under the least
// and the most of every shift, and drops those that always lie outside.
func settle(blocks []cellBlock, draws []draw) {
	var least, most shift
	for i := range draws {
		s := &draws[i].shift
		least.outline, most.outline = min(least.outline, s.outline), max(most.outline, s.outline)
		for k, step := range s.steps {
			least.steps[k], most.steps[k] = min(least.steps[k], step), max(most.steps[k], step)
		}
	}
	for i := range blocks {
		blocks[i].head.settle(least, most)
		blocks[i].stem.settle(least, most)
	}
}

func (c *cells) settle(least, most shift) {
	c.open = slices.DeleteFunc(c.open, func(o cell) bool {
		if o.edge+most.outline < 0 {
			return true
		}
		class := o.class(least)
		settled := o.edge+least.outline >= 0 && class == o.class(most)
		if settled {
			c.settled[class] += o.weight
		}
		return settled
	})
}

// class counts the steps of a cell that hold after a shift, each only when those before it do.
func (c *cell) class(s shift) int {
	for k, step := range c.steps {
		if !(step+s.steps[k] > 0) {
			return k
		}
	}
	return int(Heavy)
}

// measureCells returns the shares of both, head and stem, each block counted as often as times says.
func measureCells(blocks []cellBlock, times []uint16, s shift) [3]measure.Shares {
	var head, stem [4]int
	for i := range blocks {
		if times[i] > 0 {
			blocks[i].head.addTo(&head, int(times[i]), s)
			blocks[i].stem.addTo(&stem, int(times[i]), s)
		}
	}
	var both, ofHead, ofStem [4]float64
	for class := range head {
		ofHead[class], ofStem[class] = float64(head[class]), float64(stem[class])
		both[class] = ofHead[class] + ofStem[class]
	}
	return [3]measure.Shares{measure.SharesOf(both), measure.SharesOf(ofHead), measure.SharesOf(ofStem)}
}

// addTo adds the weight of each cell, times over, to the sum of its class; cells outside the outline count for nothing.
// Conditions mask the weights, they do not branch: a processor would guess half of the branches wrong.
func (c *cells) addTo(sums *[4]int, times int, s shift) {
	var all, film, medium, heavy int
	for i := range c.open {
		o := &c.open[i]
		here := o.weight & -one(o.edge+s.outline >= 0)
		atLeastFilm := here & -one(o.steps[0]+s.steps[0] > 0)
		atLeastMedium := atLeastFilm & -one(o.steps[1]+s.steps[1] > 0)
		isHeavy := atLeastMedium & -one(o.steps[2]+s.steps[2] > 0)
		all, film, medium, heavy = all+here, film+atLeastFilm, medium+atLeastMedium, heavy+isHeavy
	}
	sums[Bare] += times * (c.settled[Bare] + all - film)
	sums[Film] += times * (c.settled[Film] + film - medium)
	sums[Medium] += times * (c.settled[Medium] + medium - heavy)
	sums[Heavy] += times * (c.settled[Heavy] + heavy)
}

// one is 1 when a condition holds, else 0; compiled, it holds no jump.
func one(holds bool) int {
	if holds {
		return 1
	}
	return 0
}
