package compare

import "valvegrade/pkg/measure"

// Precision is how well two photos of one unchanged valve agree in a figure, pose, light and camera being new.
type Precision struct {
	// SEM is the standard error of measurement, in points: the standard deviation within a valve.
	SEM float64
	// Shared is the correlation of the errors of two photos of one valve, 0 to 1: the same crust is misread alike in
	// both, and that part of their intervals drops out of the difference.
	Shared float64
	// DF is the number of degrees of freedom that SEM was measured with, taken for Shared, too; 0 where both are known.
	DF float64
}

// careful returns the precision to reckon with: as it was measured on few valves only, SEM, and the part of the errors
// that is not shared, grow as Student's quantile exceeds the normal one.
func (p Precision) careful() (sem, shared float64) {
	if p.DF == 0 {
		return p.SEM, p.Shared
	}
	wider := measure.Student975(p.DF) / measure.Normal975
	return p.SEM * wider, max(0, 1-(1-p.Shared)*wider*wider)
}

// Repeatability holds the precision of both figures.
type Repeatability struct{ Index, Coverage Precision }

// Measured returns the repeatability of this version. scripts/calibrate/repeatability.py measures it on pairs of
// re-posed photos of unchanged valves, of looks that the net never saw (reposed.plan), on what both photos of a pair
// show; it is to be measured again with every net. With d the differences and s the standard deviations that the
// photos' own intervals stand for:
//
//   - SEM = sqrt(sum d²/2n), over the two thirds of the pairs whose own intervals are narrowest. Photos that are
//     unsure of themselves repeat far worse, but their intervals say so, and a floor for all that held them, too,
//     would deny the clear photos what they show.
//   - Shared = 1 - sum d² / sum (s1² + s2²), over the other third, where the intervals decide; at least 0.
//
// The SEM of coverage is stated far higher than it came out (1.6): the narrowest two thirds of the pairs end where it
// rises steeply, and the demo photos, some of which wear a film that is seen in one pose and not in another, scatter by
// 10. TestRepeatability holds that the re-posed demo photos agree no worse than what is stated here.
func Measured() Repeatability {
	return Repeatability{
		Index:    Precision{SEM: 6.3, Shared: 0.6, DF: 56},
		Coverage: Precision{SEM: 7, Shared: 0.3, DF: 54},
	}
}
