package compare

import "math"

// swing is by how many degrees the direction in which the stem leans swings with the place of the camera from photo to
// photo, as a standard deviation: with it swings what seems to lie in both. It is the smallest that explained the
// differences of unchanged valves (Measured).
const swing = 22

// tried are the turns at which a difference is tried; the mean of their squares is that of the swing.
var tried = [...]float64{-1.34 * swing, -0.45 * swing, 0.45 * swing, 1.34 * swing}

// swings are what both photos show when the second map is turned away from where the stem laid it.
func (c *Comparison) swings() []both {
	var found []both
	for _, turn := range tried {
		a := c.Registration.laid
		a.turn += turn
		residue, weight := overlay(c.Before.Map, c.After.Map, a)
		var b both
		for cell, w := range weight {
			if w > 0 {
				b.add(residue.Before[cell], residue.After[cell], w)
			}
		}
		found = append(found, b)
	}
	return found
}

// swung is the variance of a difference over the swings, in points²; those with nothing in common tell nothing.
func swung(f reading, whole both, swings []both) float64 {
	difference := func(b both) float64 { return f.part(b.shares(1)) - f.part(b.shares(0)) }
	sum, count := 0.0, 0.0
	for _, b := range swings {
		if off := difference(b) - difference(whole); !math.IsNaN(off) {
			sum += off * off
			count++
		}
	}
	return sum / max(1, count)
}
