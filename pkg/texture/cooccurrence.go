package texture

import "math"

// Outside marks pixels of Levels that do not count.
const Outside = 255

// Levels is a picture in few grey levels, row by row.
type Levels struct {
	Width, Height int
	// Count is the number of levels, 1 to 255; pixels hold 0 to Count-1, or Outside.
	Count int
	Pix   []uint8
}

// Angle is a direction of neighbourhood as Haralick, Shanmugam & Dinstein draw it: counter-clockwise as seen from 0, to the right.
type Angle struct {
	right, down int
}

// The four directions at distance 1.
var (
	Degrees0   = Angle{1, 0}
	Degrees45  = Angle{1, -1}
	Degrees90  = Angle{0, -1}
	Degrees135 = Angle{-1, -1}
)

// CoOccurrence are the textural features of one co-occurrence matrix, or their mean over several.
type CoOccurrence struct {
	Contrast    float64 // 0 .. (levels-1)^2: mean squared step
	EntropyBits float64 // 0 .. 2 log2(levels)
	Correlation float64 // -1 .. 1; NaN on a flat picture
	Homogeneity float64 // 0 .. 1: mean of 1/(1+step^2)
}

// Matrix counts the pairs of neighbours in direction a, each pair both ways round (symmetric), as rows of Count x Count. A
// pair counts only when both of its pixels do. Haralick, Shanmugam & Dinstein, "Textural features for image
// classification", IEEE Transactions on Systems, Man, and Cybernetics SMC-3 (1973).
func (l Levels) Matrix(a Angle) []int {
	// Everything outside shares one more level, whose pairs are left out at the end.
	side := l.Count + 1
	place := func(here, there uint8) int { return min(int(here), l.Count)*side + min(int(there), l.Count) }
	// Two tables take turns: a pair that is like the one before would have to wait for its sum.
	even, odd := make([]int, side*side), make([]int, side*side)
	for y := max(0, -a.down); y < min(l.Height, l.Height-a.down); y++ {
		left, right := max(0, -a.right), min(l.Width, l.Width-a.right)
		here := l.Pix[y*l.Width+left : y*l.Width+right]
		there := l.Pix[(y+a.down)*l.Width+left+a.right:][:len(here)]
		for len(here) >= 2 && len(there) >= 2 {
			even[place(here[0], there[0])]++
			odd[place(here[1], there[1])]++
			here, there = here[2:], there[2:]
		}
		if len(here) == 1 {
			even[place(here[0], there[0])]++
		}
	}
	matrix := make([]int, l.Count*l.Count)
	for i := range l.Count {
		for j := range l.Count {
			there, back := i*side+j, j*side+i
			matrix[i*l.Count+j] = even[there] + odd[there] + even[back] + odd[back]
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

// MeanCoOccurrence returns the features' means over the four angles at distance 1. A feature that is NaN at one angle is
// NaN in the mean.
func MeanCoOccurrence(l Levels) CoOccurrence {
	var mean CoOccurrence
	for _, angle := range []Angle{Degrees0, Degrees45, Degrees90, Degrees135} {
		f := Features(l.Matrix(angle), l.Count)
		mean.Contrast += f.Contrast / 4
		mean.EntropyBits += f.EntropyBits / 4
		mean.Correlation += f.Correlation / 4
		mean.Homogeneity += f.Homogeneity / 4
	}
	return mean
}
