package engine

import (
	"math"

	"valvegrade/pkg/deposit"
	"valvegrade/pkg/grade"
	"valvegrade/pkg/measure"
)

// heavyOf brings together what photos of one valve say of how thick its dark deposit is, and says it in a word.
//
// The share that is heavy is the MeanOf the photos' shares, weighted by the dark deposit that each shows: a photo without
// dark deposit tells nothing of its thickness. The chance that it is most of the dark deposit is pooled as the grades'
// are (grade.PoolChances), so that photos that agree make it surer, and photos that contradict each other leave it open;
// the word is that of deposit.BuildUpOf, with the limits of a single photo. It is "" where no photo was asked.
func heavyOf(shots []Shot, dark measure.Figure) (deposit.MostlyHeavy, deposit.BuildUp) {
	var shares []measure.Figure
	var chances, weights []float64
	asked, sum := false, 0.0
	for i, weight := range weightsOf(shots) {
		s := shots[i]
		asked = asked || s.Asked
		if s.Asked && s.Heavy.Share.Known() && !math.IsNaN(s.Heavy.Chance) {
			weight *= s.Dark.Value
			shares, chances, weights = append(shares, s.Heavy.Share), append(chances, s.Heavy.Chance), append(weights, weight)
			sum += weight
		}
	}
	none := deposit.MostlyHeavy{Share: measure.Unmeasured(), Chance: math.NaN()}
	switch {
	case !asked:
		return none, ""
	case shares == nil || sum == 0:
		return none, deposit.Unknown
	}
	for i := range weights {
		weights[i] /= sum
	}
	mean := MeanOf(shares, weights)
	chance := grade.PoolChances(chances, weights, mean.Narrower)
	return deposit.MostlyHeavy{Share: mean.Figure, Chance: chance}, deposit.BuildUpOf(chance, dark)
}

// writtenBuildUp is thick, thin or unknown, null where no photo was asked.
type writtenBuildUp struct {
	BuildUp *deposit.BuildUp `json:"build_up"`
}

func writeBuildUp(b deposit.BuildUp) writtenBuildUp {
	if b == "" {
		return writtenBuildUp{}
	}
	return writtenBuildUp{&b}
}
