package measure

import "math"

// Wilson returns the share count/of, 0 to 1, with the score interval of Wilson (Journal of the American Statistical
// Association 22, 1927, 209-212), which, unlike the share plus or minus two standard errors, stays within 0 to 1 and does
// not collapse at 0 or at 1 (Newcombe 1998). The share of nothing is not measured.
func Wilson(count, of int) Figure {
	if of == 0 {
		return Unmeasured()
	}
	n, p := float64(of), float64(count)/float64(of)
	z2 := Normal975 * Normal975
	centre := (p + z2/(2*n)) / (1 + z2/n)
	half := Normal975 / (1 + z2/n) * math.Sqrt(p*(1-p)/n+z2/(4*n*n))
	return Figure{Value: p, Low: math.Max(0, centre-half), High: math.Min(1, centre+half)}
}
