package compare

import (
	"math"

	"gonum.org/v1/gonum/stat"

	"valvegrade/pkg/measure"
)

// alikeWithin is by how many points of index and dark deposit two states differ at most for their photos to err alike in
// anything: what the net takes for medium where it is heavy tells nothing of the error that it makes on bare metal.
//
// On 318 pairs of photos (228 of scripts/calibrate/pairs.plan and 90 of rendered engines in the looks that it has) the
// errors of before and after correlate by 0.9 where the photos differ by less than 3 points and nothing was done to the
// valve, by 0.5 where they differ as little and something was, and not at all from 25 points on. 30 is the likeliest
// value there, and 40 the largest that is not much less likely (2 of log-likelihood); on 287 other pairs 40 is the
// likeliest.
const alikeWithin = 40

// shared is the correlation of the errors of two photos, 0 to 1, in one figure: that of their draws, in which the limits
// of the classes move alike (deposit.Draws), as far as the two states are alike. apart is by how many points they
// differ. Views by different versions share nothing: no draw of one is to be held against the same draw of the other.
func (r reading) shared(before, after *View, apart float64) float64 {
	if before.Version != after.Version {
		return 0
	}
	first, second := before.Map.Draws, after.Map.Draws
	n := min(len(first.Weight), len(second.Weight))
	weight := make([]float64, n) // what the net thinks of either photo is heard for both
	for i := range weight {
		weight[i] = first.Weight[i] * second.Weight[i]
	}
	together := stat.Correlation(r.drawn(first)[:n], r.drawn(second)[:n], weight)
	if !(together > 0) { // NaN where one of them never errs
		return 0
	}
	return together * max(0, 1-apart/alikeWithin)
}

// apart is by how many points two readings differ, in the index or the dark deposit, whichever differs more.
func apart(before, after measure.Reading) float64 {
	return max(math.Abs(after.Index.Value-before.Index.Value), math.Abs(after.Dark.Value-before.Dark.Value))
}
