package texture

import (
	"bytes"
	"math"
	"slices"
)

// Outside marks pixels of Levels that do not count.
const Outside = 255

// Levels is a picture in few grey levels, row by row.
type Levels struct {
	Width, Height int
	// Count is the number of levels, 1 to 255; pixels hold 0 to Count-1, or Outside.
	Count int
	Pix   []uint8
}

// Angle is a direction of neighbourhood at distance 1 as Haralick, Shanmugam & Dinstein draw it: counter-clockwise as
// seen from 0, to the right.
type Angle int

// The four directions.
const (
	Degrees0 Angle = iota
	Degrees45
	Degrees90
	Degrees135
	angles
)

// CoOccurrence are the textural features of one co-occurrence matrix, or their mean over several.
type CoOccurrence struct {
	Contrast    float64 // 0 .. (levels-1)^2: mean squared step
	EntropyBits float64 // 0 .. 2 log2(levels)
	Correlation float64 // -1 .. 1; NaN on a flat picture
	Homogeneity float64 // 0 .. 1: mean of 1/(1+step^2)
}

// Matrix counts the pairs of neighbours in direction a, each pair both ways round (symmetric), as rows of Count x
// Count. A pair counts only when both of its pixels do. Haralick, Shanmugam & Dinstein, "Textural features for image
// classification", IEEE Transactions on Systems, Man, and Cybernetics SMC-3 (1973).
func (l Levels) Matrix(a Angle) []int { return l.matrix(l.pairs()[a]) }

// pairs counts the neighbours in all four directions in one go: rows of a pixel's own level, columns of its
// neighbour's. Everything outside shares one more level.
func (l Levels) pairs() (pairs [angles][]int32) {
	side := l.Count + 1
	for a := range pairs {
		pairs[a] = make([]int32, side*side)
	}
	level := func(pixel uint8) int { return min(int(pixel), l.Count) }
	nothing := bytes.Repeat([]byte{Outside}, l.Width+2)
	above, here := slices.Clone(nothing), slices.Clone(nothing) // each with a pixel outside at both ends
	right, aboveRight, up, aboveLeft := pairs[Degrees0], pairs[Degrees45], pairs[Degrees90], pairs[Degrees135]
	for y := range l.Height {
		copy(here[1:], l.Pix[y*l.Width:][:l.Width])
		first, last := 1, l.Width
		for first <= last && here[first] == Outside {
			first++
		}
		for first <= last && here[last] == Outside {
			last--
		}
		upper, row := above[:len(here)], here
		for x := first; x <= last && x+1 < len(row); x++ {
			own := level(row[x]) * side
			right[own+level(row[x+1])]++
			aboveRight[own+level(upper[x+1])]++
			up[own+level(upper[x])]++
			aboveLeft[own+level(upper[x-1])]++
		}
		above, here = here, above
	}
	return pairs
}

// matrix adds the pairs the other way round and leaves out those that reach outside.
func (l Levels) matrix(pairs []int32) []int {
	side := l.Count + 1
	matrix := make([]int, l.Count*l.Count)
	for i := range l.Count {
		for j := range l.Count {
			matrix[i*l.Count+j] = int(pairs[i*side+j] + pairs[j*side+i])
		}
	}
	return matrix
}

// Features returns the features of a symmetric co-occurrence matrix of the given number of levels, all NaN when it is
// empty. The formulas are those of 1973 with the logarithm to base 2.
func Features(matrix []int, levels int) CoOccurrence {
	total, mean := 0, 0.0
	for k, count := range matrix {
		total += count
		mean += float64(count) * float64(k/levels)
	}
	if total == 0 {
		return CoOccurrence{math.NaN(), math.NaN(), math.NaN(), math.NaN()}
	}
	mean /= float64(total)
	var f CoOccurrence
	var variance, covariance float64
	for k, count := range matrix {
		if count == 0 {
			continue
		}
		share := float64(count) / float64(total)
		i, j := float64(k/levels), float64(k%levels)
		f.Contrast += share * (i - j) * (i - j)
		f.Homogeneity += share / (1 + (i-j)*(i-j))
		f.EntropyBits -= share * math.Log2(share)
		variance += share * (i - mean) * (i - mean)
		covariance += share * (i - mean) * (j - mean)
	}
	f.Correlation = covariance / variance
	if variance == 0 {
		f.Correlation = math.NaN()
	}
	return f
}

// MeanCoOccurrence returns the features' means over the four angles at distance 1. A feature that is NaN at one angle
// is NaN in the mean.
func MeanCoOccurrence(l Levels) CoOccurrence {
	var mean CoOccurrence
	for _, pairs := range l.pairs() {
		f := Features(l.matrix(pairs), l.Count)
		mean.Contrast += f.Contrast / 4
		mean.EntropyBits += f.EntropyBits / 4
		mean.Correlation += f.Correlation / 4
		mean.Homogeneity += f.Homogeneity / 4
	}
	return mean
}
