package compare

import "gonum.org/v1/gonum/stat/distuv"

// Precision is how well two photos of one unchanged valve agree in a figure, pose, light and camera being new.
type Precision struct {
	// SEM is the standard error of measurement, in points: the standard deviation within a valve.
	SEM float64
	// Shared is the correlation of the errors of two photos of one valve, 0 to 1: the same crust is misread alike in both, and that
	// part of their intervals drops out of the difference.
	Shared float64
	// DF is the number of degrees of freedom that both were measured with; 0 where they are known.
	DF float64
}

// careful returns the precision to reckon with: as it was measured on few valves only, SEM, and the part of the errors that is not
// shared, grow as Student's quantile exceeds the normal one.
func (p Precision) careful() (sem, shared float64) {
	if p.DF == 0 {
		return p.SEM, p.Shared
	}
	wider := distuv.StudentsT{Mu: 0, Sigma: 1, Nu: p.DF}.Quantile(0.975) / quantile975
	return p.SEM * wider, max(0, 1-(1-p.Shared)*wider*wider)
}

// Repeatability holds the precision of both figures.
type Repeatability struct{ Index, Coverage Precision }

// Measured returns the repeatability of this version. It was measured on 117 pairs of re-posed photos of 46 unchanged valves, of looks
// that the net never saw (scripts/calibrate, reposed.plan and repeatability.py; in 27 more pairs a photo was refused or the two did not
// register), on what both photos of a pair show, with the net aca61279747b on 2026-11-26. With d the differences and s the standard
// deviations that the photos' own intervals stand for:
//
//   - SEM = sqrt(sum d²/2n), over the two thirds of the pairs whose own intervals are narrowest. Photos that are unsure of themselves repeat
//     far worse (a sixth of the pairs after the other: 0.2, 2, 7, 10, 14 and 16 points of index), but their intervals say so, and a floor for
//     all that held them, too, would deny the clear photos what they show.
//   - Shared = 1 - sum d² / sum (s1² + s2²), over the other third, where the intervals decide; at least 0.
//
// With these figures one of the 117 pairs reads "changed".
//
// The re-posed demo photos (testdata/series: three valves with three photos each, one with two) have 3.5 points of index and 3.7 of
// coverage: TestRepeatability holds that they agree no worse than what is stated here.
func Measured() Repeatability {
	return Repeatability{Index: Precision{SEM: 6.0, Shared: 0.42, DF: 57}, Coverage: Precision{SEM: 2.5, Shared: 0, DF: 58}}
}
