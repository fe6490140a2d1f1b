package measure

import "math"

// Shares are the shares of the deposit classes among the readable pixels of a valve, or of a part of it, each 0 to 1.
// They sum to 1, or are all NaN when no pixel is readable.
type Shares struct {
	Bare, Film, Medium, Heavy float64
}

// SharesOf returns the shares of classes that have these weights, from bare to heavy; NaN when nothing has any.
func SharesOf(weights [4]float64) Shares {
	sum := weights[0] + weights[1] + weights[2] + weights[3]
	return Shares{weights[0] / sum, weights[1] / sum, weights[2] / sum, weights[3] / sum}
}

// NoShares are those of nothing.
func NoShares() Shares { return SharesOf([4]float64{math.NaN()}) }

// Index returns the deposit index of the shares, 0 to 100.
//
// Area times a factor per level is the practice of engine-test deposit rating; the factors 1.00 and 0.50 are from
// memory of that practice, and letting a film stand for the light level with 0.25 is this project's own choice.
func (s Shares) Index() float64 { return 100 * (s.Heavy + 0.5*s.Medium + 0.25*s.Film) }

// Dark returns the dark deposit: the percentage of readable pixels that carry crust, medium or heavy, 0 to 100.
func (s Shares) Dark() float64 { return 100 * (s.Heavy + s.Medium) }

// Thick returns the percentage of the dark deposit that is heavy, 0 to 100; NaN where there is no dark deposit.
func (s Shares) Thick() float64 { return 100 * s.Heavy / (s.Heavy + s.Medium) }

// Coverage returns the percentage of readable pixels that carry any deposit, 0 to 100.
func (s Shares) Coverage() float64 { return 100 * (s.Heavy + s.Medium + s.Film) }
