package main

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"valvegrade/internal/truth"
)

// refusals counts what was refused of the photos that can be judged and of those that cannot.
func refusals(photos []sample) {
	var good, goodRefused, bad, badRefused int
	for _, s := range photos {
		switch s.Demand {
		case truth.Judge:
			good++
			if s.refused {
				goodRefused++
			}
		case truth.Refuse:
			bad++
			if s.refused {
				badRefused++
			}
		}
	}
	fmt.Printf("refused: %d of %d that cannot be judged, %d of %d that can\n\n", badRefused, bad, goodRefused, good)
}

// bins is the number of rows in a reliability table; each holds as many photos.
const bins = 6

// reliability shows whether low confidence means a poor outline.
func reliability(photos []sample) {
	fmt.Println("confidence   photos   mean confidence   mean IoU of the valve   lowest tenth")
	inBins(photos, func(s sample) float64 { return s.region.Confidence }, func(part []sample) {
		var confidence, overlap []float64
		for _, s := range part {
			confidence, overlap = append(confidence, s.region.Confidence), append(overlap, s.overlap)
		}
		fmt.Printf(
			"%.2f to %.2f %7d %17.2f %23.2f %14.2f\n",
			confidence[0],
			confidence[len(confidence)-1],
			len(part),
			mean(confidence),
			mean(overlap),
			tenth(overlap),
		)
	})
	fmt.Println()
}

// expectation shows whether the error that the net expects of its index is the error it makes.
func expectation(photos []sample) {
	fmt.Println("photos   expected index error   index error   bias")
	inBins(photos, func(s sample) float64 { return s.region.Evidence.Frame.IndexError }, func(part []sample) {
		var expected, made, bias []float64
		for _, s := range part {
			expected = append(expected, 100*s.region.Evidence.Frame.IndexError)
			made, bias = append(made, math.Abs(s.index-s.Both.Index)), append(bias, s.index-s.Both.Index)
		}
		fmt.Printf("%6d %22.1f %13.1f %6.1f\n", len(part), mean(expected), mean(made), mean(bias))
	})
	fmt.Println()
}

// inBins sorts by key and calls each with equal parts.
func inBins(photos []sample, key func(sample) float64, each func([]sample)) {
	sorted := slices.Clone(photos)
	slices.SortStableFunc(sorted, func(a, b sample) int { return cmp.Compare(key(a), key(b)) })
	for k := range bins {
		if part := sorted[k*len(sorted)/bins : (k+1)*len(sorted)/bins]; len(part) > 0 {
			each(part)
		}
	}
}

func mean(values []float64) float64 {
	sum := 0.0
	for _, v := range values {
		sum += v
	}
	return sum / float64(len(values))
}

func tenth(values []float64) float64 {
	sorted := slices.Sorted(slices.Values(values))
	return sorted[len(sorted)/10]
}
