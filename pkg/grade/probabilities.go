package grade

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"valvegrade/pkg/measure"
)

// Grades is the number of grades, 0 to 4.
const Grades = 5

// Probabilities are those of the grades 0 to 4, each 0 to 1. They sum to 1, or are all 0 when they are not known.
type Probabilities [Grades]float64

// Known reports whether there are any.
func (p Probabilities) Known() bool { return p != Probabilities{} }

// AtLeast returns the probability that the grade is value or more, NaN when it is not known.
func (p Probabilities) AtLeast(value int) float64 {
	if !p.Known() {
		return math.NaN()
	}
	sum := 0.0
	for _, above := range p[value:] {
		sum += above
	}
	return min(1, sum) // in binary five numbers that sum to 1 may pass it by a little
}

// Due is the probability that the index is 40 or more, which is grade 3: that cleaning is due.
func (p Probabilities) Due() float64 { return p.AtLeast(3) }

// Likeliest returns the grade of the highest probability, of several the lowest.
func (p Probabilities) Likeliest() int {
	best := 0
	for value := range p {
		if p[value] > p[best] {
			best = value
		}
	}
	return best
}

// Brier is the score of Brier, "Verification of forecasts expressed in terms of probability", Monthly Weather Review 78
// (1950), 1, where the true grade is value: 0 when it was certain, 2 when another was.
func (p Probabilities) Brier(value int) float64 {
	sum := 0.0
	for k, said := range p {
		if k == value {
			said--
		}
		sum += said * said
	}
	return sum
}

// Tempered returns the probabilities with their logarithms divided by the temperature, greater than 0, and brought back to
// the sum of 1: above 1 they are less sure, at 1 the same. Those that are not known stay so.
func (p Probabilities) Tempered(temperature float64) Probabilities {
	if !p.Known() {
		return p
	}
	total := 0.0
	for value := range p {
		p[value] = math.Pow(p[value], 1/temperature)
		total += p[value]
	}
	for value := range p {
		p[value] /= total
	}
	return p
}

// cumulative turns the probabilities that the index is below each limit into those of the grades.
func cumulative(below [Grades - 1]float64) Probabilities {
	var p Probabilities
	last := 0.0
	for value, share := range below {
		share = min(1, max(last, share))
		p[value], last = share-last, share
	}
	p[Grades-1] = 1 - last
	return p
}

// below returns the probability that the index is below the limit at which grade k+1 begins.
func (p Probabilities) below(k int) float64 { return 1 - p.AtLeast(k+1) }

// OfInterval returns what the interval alone says of an index whose probabilities nobody kept: as if its errors were
// normal, each side with the spread of its own half of the interval.
func OfInterval(index measure.Figure) Probabilities {
	if !index.Known() || math.IsNaN(index.Low) || math.IsNaN(index.High) {
		return Probabilities{}
	}
	var below [Grades - 1]float64
	for k, limit := range limits {
		half := index.High - index.Value
		if limit < index.Value {
			half = index.Value - index.Low
		}
		switch distance := limit - index.Value; {
		case half > 0:
			below[k] = distuv.UnitNormal.CDF(measure.Normal975 * distance / half)
		case distance > 0:
			below[k] = 1
		}
	}
	return cumulative(below)
}

// Worst returns the probabilities of the highest of several grades, those that are not known left out: the probability
// that it is below a limit is the least of theirs. That holds for errors that go one way together, as those of photos
// of one engine mostly do, and is the rule by which intervals of the worst are made, too.
func Worst(all ...Probabilities) Probabilities {
	var below [Grades - 1]float64
	known := false
	for _, p := range all {
		if !p.Known() {
			continue
		}
		for k := range below {
			if !known || p.below(k) < below[k] {
				below[k] = p.below(k)
			}
		}
		known = true
	}
	if !known {
		return Probabilities{}
	}
	return cumulative(below)
}

// rare is the least probability that pooling distinguishes from 0.
const rare = 1e-3

// Pool brings what several photos say of one valve together. Weights sum to 1; narrower is the half width of the pooled
// interval in those of the photos' mean interval.
//
// In units of the standard normal quantile, the pooled distance of a limit is the weighted mean of the photos'
// distances divided by narrower. For photos with normal errors of one spread that is exactly the probability about
// their weighted mean.
func Pool(all []Probabilities, weights []float64, narrower float64) Probabilities {
	var below [Grades - 1]float64
	for k := range below {
		chances := make([]float64, len(all))
		for i, p := range all {
			if !p.Known() {
				return Probabilities{}
			}
			chances[i] = p.below(k)
		}
		below[k] = PoolChances(chances, weights, narrower)
	}
	return cumulative(below)
}

// PoolChances is Pool for one thing that is so or not: the probability that it is, by what several photos hold of it.
func PoolChances(chances, weights []float64, narrower float64) float64 {
	if len(chances) == 1 {
		return chances[0]
	}
	if !(narrower > 0) {
		narrower = 1
	}
	distance := 0.0
	for i, chance := range chances {
		distance += weights[i] * distuv.UnitNormal.Quantile(min(1-rare, max(rare, chance)))
	}
	return distuv.UnitNormal.CDF(distance / narrower)
}
