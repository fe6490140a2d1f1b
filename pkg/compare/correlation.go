package compare

import (
	"math"

	"valvegrade/pkg/unroll"
)

// leastCommon is the share of the head that both maps must show for their patterns to be compared.
const leastCommon = 0.10

// leastContrast is the standard deviation of a pattern, in units of ln, below which it is none: one per cent is what
// one code of an 8-bit photo makes of bright metal.
const leastContrast = 0.01

// sums gathers what Pearson's correlation of two patterns is made of; cells count by their area on a flat head.
type sums struct{ n, x, y, xx, yy, xy float64 }

func (s *sums) add(weight, x, y float64) {
	s.n += weight
	s.x, s.y = s.x+weight*x, s.y+weight*y
	s.xx, s.yy, s.xy = s.xx+weight*x*x, s.yy+weight*y*y, s.xy+weight*x*y
}

// correlation is -1 to 1; NaN when the maps have too little in common, or one of them no pattern at all.
func (s *sums) correlation() float64 {
	const head = columns * headRows * headRows / 2 // the weights of all cells
	if s.n < leastCommon*head {
		return math.NaN()
	}
	x, y := s.xx-s.x*s.x/s.n, s.yy-s.y*s.y/s.n
	if min(x, y) < s.n*leastContrast*leastContrast {
		return math.NaN()
	}
	return (s.xy - s.x*s.y/s.n) / math.Sqrt(x*y)
}

// weightOf is the area of a head's cell on a flat head.
func weightOf(row int) float64 { return float64(row) + 0.5 }

// correlation compares the patterns of two heads as they are laid on each other.
func correlation(first, second *unroll.Map, a alignment) float64 {
	var s sums
	for cell, tone := range first.Tone {
		if !first.Readable(cell) {
			continue
		}
		if other, ok := a.cell(cell); ok && second.Readable(other) {
			s.add(weightOf(cell/columns), float64(tone), float64(second.Tone[other]))
		}
	}
	return s.correlation()
}

// turns compares the patterns at every whole degree that the second map can be turned by.
func turns(first, second *unroll.Map) []float64 {
	all := make([]sums, columns)
	for row := range headRows {
		start, weight := row*columns, weightOf(row)
		for column := range columns {
			if !first.Readable(start + column) {
				continue
			}
			tone := float64(first.Tone[start+column])
			for other := range columns {
				if second.Readable(start + other) {
					all[wrap(column-other)].add(weight, tone, float64(second.Tone[start+other]))
				}
			}
		}
	}
	curve := make([]float64, columns)
	for turn := range curve {
		curve[turn] = all[turn].correlation()
	}
	return curve
}
