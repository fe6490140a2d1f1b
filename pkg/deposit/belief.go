package deposit

import (
	"cmp"
	"math"
	"slices"

	"valvegrade/pkg/grade"
	"valvegrade/pkg/measure"
)

// belief holds the weight of each draw.
type belief []float64

// leastOpinion is the least that the net's opinion of a grade counts, so that it never rules one out.
const leastOpinion = 1e-3

// beliefOf weighs the draws of an index by the opinion that the net has of their grades, to the power of trust. All
// weigh the same where it has none.
func beliefOf(indices []float64, opinion [grade.Grades]float64, trust float64) belief {
	var weights [grade.Grades]float64
	silent := opinion == [grade.Grades]float64{}
	for value, p := range opinion {
		weights[value] = 1
		if !silent {
			weights[value] = math.Pow(max(leastOpinion, p), trust)
		}
	}
	b := make(belief, len(indices))
	for i, index := range indices {
		if !math.IsNaN(index) {
			b[i] = weights[grade.Place(index)]
		}
	}
	return b
}

// grades returns the share of the weight in each grade, tempered.
func (b belief) grades(indices []float64, temper float64) grade.Probabilities {
	var sums grade.Probabilities
	total := 0.0
	for i, index := range indices {
		if !math.IsNaN(index) {
			sums[grade.Place(index)] += b[i]
			total += b[i]
		}
	}
	if total == 0 {
		return grade.Probabilities{}
	}
	for value := range sums {
		// As if one draw more had been spread over all grades: what no draw met is rare, not impossible.
		sums[value] = (sums[value]/total*float64(len(b)) + 1./grade.Grades) / float64(len(b)+1)
	}
	return sums.Tempered(temper)
}

// around returns the 95 % interval of the values, NaN left out, widened to hold value and cut to 0..100.
func (b belief) around(value float64, values []float64) measure.Figure {
	if math.IsNaN(value) {
		return measure.Unmeasured()
	}
	low, high := b.bounds(values)
	if math.IsNaN(low) {
		return measure.Figure{Value: value, Low: 0, High: 100}
	}
	return measure.Figure{Value: value, Low: max(0, min(value, low)), High: min(100, max(value, high))}
}

// bounds returns the weighted quantiles of the values at 2.5 and 97.5 %; NaN left out, and NaN when nothing is left.
func (b belief) bounds(values []float64) (low, high float64) {
	order, total := make([]int, 0, len(values)), 0.0
	for i, v := range values {
		if !math.IsNaN(v) {
			order = append(order, i)
			total += b[i]
		}
	}
	if total == 0 {
		return math.NaN(), math.NaN()
	}
	slices.SortFunc(order, func(i, j int) int { return cmp.Compare(values[i], values[j]) })
	low, high = math.NaN(), values[order[len(order)-1]]
	sum := 0.0
	for _, i := range order {
		sum += b[i]
		if math.IsNaN(low) && sum >= 0.025*total {
			low = values[i]
		}
		if sum >= 0.975*total {
			high = values[i]
			break
		}
	}
	return low, high
}

// clamped keeps a percentage within 0 to 100; NaN stays.
func clamped(v float64) float64 { return min(100, max(0, v)) }
