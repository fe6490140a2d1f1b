package agree

import (
	"math"

	"valvegrade/pkg/measure"
)

// Proportion is Count out of Of as a share with its 95 % interval, all within 0 to 1. The share is not measured when Of
// is 0.
type Proportion struct {
	Count, Of int
	measure.Figure
}

// Wilson returns the share count/of with the score interval of Wilson (1927), which, unlike the share plus or minus two
// standard errors, stays within 0 to 1 and does not collapse at 0 or at 1 (Newcombe 1998).
func Wilson(count, of int) Proportion {
	if of == 0 {
		return Proportion{Figure: measure.Unmeasured()}
	}
	n, p := float64(of), float64(count)/float64(of)
	z2 := measure.Normal975 * measure.Normal975
	centre := (p + z2/(2*n)) / (1 + z2/n)
	half := measure.Normal975 / (1 + z2/n) * math.Sqrt(p*(1-p)/n+z2/(4*n*n))
	return Proportion{
		count,
		of,
		measure.Figure{Value: p, Low: math.Max(0, centre-half), High: math.Min(1, centre+half)},
	}
}
