package agree

import (
	"fmt"
	"math"
)

// Weights say how much a pair of classes counts as agreement: 1 is full, 0 is none. The matrix is square.
type Weights [][]float64

// Exact counts only equal classes: the kappa of Cohen (1960).
func Exact(classes int) Weights {
	return byDistance(classes, func(d float64) float64 {
		if d == 0 {
			return 1
		}
		return 0
	})
}

// Linear takes off in proportion to the distance between the classes (Cicchetti & Allison 1971).
func Linear(classes int) Weights {
	return byDistance(classes, func(d float64) float64 { return 1 - d })
}

// Quadratic takes off with the square of the distance (Fleiss & Cohen 1973): two neighbouring grades nearly agree.
func Quadratic(classes int) Weights {
	return byDistance(classes, func(d float64) float64 { return 1 - d*d })
}

// FromDisagreement turns disagreement weights (0 for agreement, larger is worse, as in Cohen 1968) into agreement
// weights by 1 - d/max(d). Kappa does not depend on that scaling.
func FromDisagreement(disagreement [][]float64) (Weights, error) {
	largest := 0.0
	for _, row := range disagreement {
		for _, d := range row {
			if !(d >= 0) || math.IsInf(d, 0) {
				return nil, fmt.Errorf("agree: disagreement weight %v is not 0 or more", d)
			}
			largest = math.Max(largest, d)
		}
	}
	if largest == 0 {
		return nil, fmt.Errorf("agree: disagreement weights are all 0")
	}
	w := make(Weights, len(disagreement))
	for i, row := range disagreement {
		w[i] = make([]float64, len(row))
		for j, d := range row {
			w[i][j] = 1 - d/largest
		}
	}
	return w, nil
}

// byDistance builds weights from a function of the distance between classes, scaled so that the farthest pair is at 1.
func byDistance(classes int, weight func(distance float64) float64) Weights {
	span := math.Max(1, float64(classes-1))
	w := make(Weights, classes)
	for i := range w {
		w[i] = make([]float64, classes)
		for j := range w[i] {
			w[i][j] = weight(math.Abs(float64(i-j)) / span)
		}
	}
	return w
}
