package compare

import "math"

// Method says what laid the two maps on each other.
type Method string

// The methods, from the surest to the weakest.
const (
	// BySurface: deposit or marks on the metal that both photos show match at one turn and at no other.
	BySurface Method = "surface"
	// ByStem: the stem leans to 12 in both; the turn of the valve is as uncertain as the camera's place.
	ByStem Method = "stem"
	// ByOutline: a stem is missing, so the clock positions of the two photos have nothing to do with each other.
	ByOutline Method = "outline"
)

// Registration says how two photos were brought onto one map.
type Registration struct {
	Method Method
	// Turn is how far the second photo's map was turned to lie on the first, in degrees clockwise, (-180, 180]; 0 unless Method is
	// BySurface.
	Turn float64
	// Correlation is that of the two patterns as they were laid on each other, -1 to 1; NaN without patterns in common.
	Correlation float64
}

// A peak of the correlation over all turns is believed when it is high and stands out from every other one. On the re-posed photos
// of testdata/series the right turn reaches 0.49 to 0.65, with the next peak 0.12 and more below; of all other pairs of the demo
// photos the best turn stays at 0.35 and below (2026-11-25, net 9daa36c5851f).
const (
	leastPeak   = 0.40
	leastMargin = 0.08
	// peakWidth is how far from the peak, in degrees, other peaks begin.
	peakWidth = 20
	// mostTurn is how far the camera's place can swing between two photos through one port, in degrees; without a stem the
	// outline says nothing, so every turn is tried.
	mostTurn = 90
)

// register finds how the second map lies on the first.
func register(first, second *surface) (alignment, Registration) {
	oriented := first.oriented && second.oriented
	curve := turns(first, second)
	reach := columns / 2
	if oriented {
		reach = mostTurn
	}
	if peak, found := outstanding(curve, reach); found {
		a := refine(first, second, alignment{turn: float64(signed(peak))})
		return a, Registration{Method: BySurface, Turn: math.Remainder(a.turn, columns), Correlation: correlation(first, second, a)}
	}
	if oriented {
		return alignment{}, Registration{Method: ByStem, Correlation: curve[0]}
	}
	return alignment{}, Registration{Method: ByOutline, Correlation: curve[0]}
}

// outstanding returns the turn of the highest peak within reach of 0, and whether it can be believed.
func outstanding(curve []float64, reach int) (turn int, believed bool) {
	best, next := math.Inf(-1), math.Inf(-1)
	for t, c := range curve {
		if abs(signed(t)) <= reach && c > best { // false for NaN
			best, turn = c, t
		}
	}
	for t, c := range curve {
		if abs(signed(t-turn)) > peakWidth && c > next {
			next = c
		}
	}
	return turn, best >= leastPeak && best-next >= leastMargin
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

// refine improves an alignment by compass search (Kolda, Lewis & Torczon, SIAM Review 45 (2003)): each of turn and foot is
// tried a step to both sides, and the step halved when nothing helps.
func refine(first, second *surface, best alignment) alignment {
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
