package compare

import (
	"valvegrade/pkg/deposit"
	"valvegrade/pkg/measure"
)

// Zone is a part of the valve.
type Zone string

// The zones, from the outside in and up. Rim and fillet meet half way from the stem to the rim, at 0.6 of its radius,
// because the stem takes up the innermost fifth (head and stem of engines are as 5 to 6.5 : 1).
const (
	Rim    Zone = "rim"
	Fillet Zone = "fillet"
	Stem   Zone = "stem"
)

const filletRadius = 0.6

func zoneOf(cell int) Zone {
	switch row := cell / columns; {
	case row >= headRows:
		return Stem
	case (float64(row)+0.5)/headRows < filletRadius:
		return Fillet
	default:
		return Rim
	}
}

// hours on the clock; each takes 30 degrees, with the full hour in the middle.
const hours = 12

// hourOf returns 1 to 12.
func hourOf(cell int) int {
	const degrees = columns / hours
	hour := (cell%columns + degrees/2) / degrees % hours
	if hour == 0 {
		return hours
	}
	return hour
}

// Part is what both photos show of a part of the valve.
type Part struct {
	// Share is the part's share of all that was compared, 0 to 1.
	Share float64
	// Before and After are shares of the classes in the part; NaN where next to nothing of it could be compared.
	Before, After measure.Shares
}

// leastPart is the share of the comparison below which a part is too small to have figures.
const leastPart = 0.005

// both are the weights of the classes in two maps, over the same cells.
type both struct{ before, after [4]float64 }

func (b *both) add(before, after uint8, weight float64) {
	b.before[before] += weight
	b.after[after] += weight
}

// sum is the weight of all cells.
func (b *both) sum() float64 {
	return b.before[deposit.Bare] + b.before[deposit.Film] + b.before[deposit.Medium] + b.before[deposit.Heavy]
}

// shares are those before (0) or after (1).
func (b *both) shares(side int) measure.Shares {
	return measure.SharesOf([2][4]float64{b.before, b.after}[side])
}

func (b *both) part(whole float64) Part {
	p := Part{Share: b.sum() / whole, Before: measure.NoShares(), After: measure.NoShares()}
	if p.Share >= leastPart {
		p.Before, p.After = b.shares(0), b.shares(1)
	}
	return p
}
