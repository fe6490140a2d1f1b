package agree

import "math"

// Proportion is Count out of Of with its 95 % interval, all within 0 to 1. The three shares are NaN when Of is 0.
type Proportion struct {
	Count, Of        int
	Share, Low, High float64
}

// Wilson returns the share count/of with the score interval of Wilson (1927), which, unlike the share plus or minus two
// standard errors, stays within 0 to 1 and does not collapse at 0 or at 1 (Newcombe 1998).
func Wilson(count, of int) Proportion {
	if of == 0 {
		return Proportion{Share: math.NaN(), Low: math.NaN(), High: math.NaN()}
	}
	n, p := float64(of), float64(count)/float64(of)
	z2 := normal975 * normal975
	centre := (p + z2/(2*n)) / (1 + z2/n)
	half := normal975 / (1 + z2/n) * math.Sqrt(p*(1-p)/n+z2/(4*n*n))
	return Proportion{Count: count, Of: of, Share: p, Low: math.Max(0, centre-half), High: math.Min(1, centre+half)}
}
