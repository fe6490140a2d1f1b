package compare

import (
	"math"
	"slices"

	"valvegrade/pkg/unroll"
)

// Method says what laid the two maps on each other.
type Method string

// The methods, from the surest to the weakest.
const (
	// BySurface: deposit or marks on the metal that both photos show match at one turn and at no other.
	BySurface Method = "surface"
	// ByStem: the stem leans to 12 in both; the turn of the valve is as uncertain as the camera's place.
	ByStem Method = "stem"
	// ByOutline: a stem is missing, so that what is where on the clock is not known, nor what both photos show.
	ByOutline Method = "outline"
)

// Registration says how two photos were brought onto one map.
type Registration struct {
	Method Method
	// Turn is how far the second photo's map was turned to lie on the first, in degrees clockwise, (-180, 180]; 0
	// unless Method is BySurface.
	Turn float64
	// Correlation is that of the two patterns as they were laid on each other, -1 to 1; NaN without patterns in common.
	Correlation float64

	laid alignment
}

// Onto returns the place on the head in the second photo that lies on one in the first, both as seen along the stem
// with 12 at the top: x to the right and y down, in radii of the rim around its middle.
func (r *Registration) Onto(x, y float64) (otherX, otherY float64) {
	radius := math.Hypot(x, y)
	a := r.laid
	u := x + (1-radius)*a.across
	v := -y + (1-radius)*a.up
	sin, cos := math.Sincos(a.turn * math.Pi / 180)
	return u*cos - v*sin, -(u*sin + v*cos)
}

// A match is believed when its correlation is high and stands out from that at every other turn, each turn taken at its
// best. leastMatch lies between what valves without a pattern to go by reach on the demo photos, 0.55 in all pairs of
// different valves and in re-posed ones alike, and what re-posed valves with one do, 0.58 and more.
const (
	leastMatch  = 0.57
	leastMargin = 0.10
	// peakWidth is how far apart, in degrees, two peaks are at least; the highest ones are looked into.
	peakWidth = 20
	highest   = 3
	// mostTurn is how far the camera's place can swing between two photos through one port, in degrees; without a stem
	// the outline says nothing, so every turn is tried.
	mostTurn = 90
)

// register finds how the second map lies on the first.
func register(first, second *unroll.Map) (alignment, Registration) {
	oriented := first.Oriented && second.Oriented
	curve := turns(first, second)
	reach := columns / 2
	if oriented {
		reach = mostTurn
	}
	var tries []alignment
	for _, turn := range peaks(curve, reach) {
		tries = append(tries, refine(first, second, alignment{turn: float64(turn)}))
	}
	best, match, next := bestOf(tries, func(a alignment) float64 { return correlation(first, second, a) })
	switch {
	case match >= leastMatch && match-next >= leastMargin:
		return best, Registration{Method: BySurface, Turn: math.Remainder(best.turn, columns), Correlation: match}
	case oriented:
		return alignment{}, Registration{Method: ByStem, Correlation: curve[0]}
	default:
		return alignment{}, Registration{Method: ByOutline, Correlation: curve[0]}
	}
}

// bestOf returns the alignment with the highest correlation, and the highest correlation at another turn: a search that
// began elsewhere but came to the same turn is no rival.
func bestOf(tries []alignment, correlation func(alignment) float64) (best alignment, match, next float64) {
	match, next = math.Inf(-1), math.Inf(-1)
	for _, a := range tries {
		if c := correlation(a); c > match {
			best, match = a, c
		}
	}
	for _, a := range tries {
		if math.Abs(math.Remainder(a.turn-best.turn, columns)) > peakWidth {
			next = max(next, correlation(a))
		}
	}
	return best, match, next
}

// peaks returns the turns of the highest peaks within reach of 0, in (-180, 180], the highest first.
func peaks(curve []float64, reach int) []int {
	var found []int
	for len(found) < highest {
		top, turn := math.Inf(-1), 0
		for t, c := range curve {
			t = signed(t)
			near := slices.ContainsFunc(found, func(f int) bool { return abs(signed(t-f)) <= peakWidth })
			if c > top && abs(t) <= reach && !near { // false for NaN
				top, turn = c, t
			}
		}
		if math.IsInf(top, -1) {
			return found
		}
		found = append(found, turn)
	}
	return found
}

// signed returns the turn in (-180, 180].
func signed(turn int) int {
	turn = wrap(turn)
	if turn > columns/2 {
		return turn - columns
	}
	return turn
}

func abs(n int) int { return max(n, -n) }

const (
	// firstStep is in degrees for the turn; the foot's steps are footStep of it.
	firstStep, lastStep = 4.0, 0.25
	footStep            = 0.025
	// mostFoot is how far the foot may be moved, in radii of the rim: further is no error of an outline.
	mostFoot = 0.3
)

// refine improves an alignment by compass search (Kolda, Lewis & Torczon, SIAM Review 45 (2003)): each of turn and foot
// is tried a step to both sides, and the step halved when nothing helps.
func refine(first, second *unroll.Map, best alignment) alignment {
	value := correlation(first, second, best)
	for step := firstStep; step >= lastStep; {
		improved := false
		for _, try := range best.around(step) {
			if c := correlation(first, second, try); c > value {
				best, value, improved = try, c, true
				break
			}
		}
		if !improved {
			step /= 2
		}
	}
	return best
}

// around returns the neighbours of an alignment at a step, those left out whose foot strays too far.
func (a alignment) around(step float64) []alignment {
	foot := step * footStep
	all := []alignment{
		{a.turn + step, a.across, a.up}, {a.turn - step, a.across, a.up},
		{a.turn, a.across + foot, a.up}, {a.turn, a.across - foot, a.up},
		{a.turn, a.across, a.up + foot}, {a.turn, a.across, a.up - foot},
	}
	var near []alignment
	for _, next := range all {
		if math.Hypot(next.across, next.up) <= mostFoot {
			near = append(near, next)
		}
	}
	return near
}
