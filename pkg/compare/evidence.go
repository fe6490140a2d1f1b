package compare

import (
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"valvegrade/pkg/inspection"
	"valvegrade/pkg/reason"
	"valvegrade/pkg/unroll"
)

const (
	// mostProportion is by what factor head to stem may differ between two photos of one valve. The heads of engines
	// measure 5 to 6.5 stems, which tells them hardly apart; in a photo a stem close to the lens looks up to twice as
	// wide. So only what no perspective explains is called another valve.
	mostProportion = 3.0
	// mostStems is how many stems a head can seem to measure. Beyond it the guide left a sliver of the stem, whose
	// width tells nothing.
	mostStems = mostProportion * unroll.MostStems
	// mostFootReach is how far from the middle of the head, in radii of its outline, a stem can seem to stand. A tall
	// fillet seen from the side lifts the foot towards the rim, by height/radius times the tangent of the tilt, and a
	// little beyond; at twice the radius stem and head belong to no valve.
	mostFootReach = 2.0
	// leastShare is the least share of the readable valve that must be common.
	leastShare = 0.25
)

// photoReasons says what speaks against comparing these two files at all.
func photoReasons(before, after *View) []reason.Reason {
	var found []reason.Reason
	for _, v := range []*View{before, after} {
		if !v.scored() {
			found = append(found, table.With(PhotoRefused, v.name()+" ("+codes(v.Reasons)+")"))
		}
	}
	if before.SHA256 != "" && before.SHA256 == after.SHA256 {
		found = append(found, table.Of(SamePhoto))
	}
	if otherPlace(before.Photo, after.Photo) {
		found = append(found, table.With(OtherName, filepath.Base(before.Photo)+" and "+filepath.Base(after.Photo)))
	}
	if before.Taken != "" && after.Taken != "" && after.Taken < before.Taken {
		found = append(found, table.Of(TakenEarlier))
	}
	if before.Version != after.Version {
		found = append(found, table.With(OtherVersions, before.Version+" and "+after.Version))
	}
	for _, v := range []struct {
		when string
		*View
	}{{"before", before}, {"after", after}} {
		if v.OutlinedByHand {
			found = append(found, table.With(OutlineByHand, correctedIn(v.when, v.OutlinedBy)))
		}
		if v.Painted {
			found = append(found, table.With(PaintedByHand, correctedIn(v.when, v.PaintedBy)))
		}
		if slices.ContainsFunc(v.Reasons, func(r reason.Reason) bool { return r.Code == reason.PaintBeside }) {
			found = append(found, table.With(PaintIgnored, v.when))
		}
	}
	return found
}

// correctedIn says in which photo somebody corrected something, and who, where that is known.
func correctedIn(when, by string) string {
	if by == "" {
		return when
	}
	return when + ", by " + by
}

// otherPlace reports whether two file names tell different cylinders or valves.
func otherPlace(before, after string) bool {
	cylinder, valve := inspection.Named(before)
	otherCylinder, otherValve := inspection.Named(after)
	differ := func(a, b int) bool { return a != 0 && b != 0 && a != b }
	return differ(cylinder, otherCylinder) || differ(valve, otherValve)
}

func codes(reasons []reason.Reason) string {
	var words []string
	for _, r := range reasons {
		if entry, ok := reason.Find(r.Code); ok && entry.Refuses {
			words = append(words, entry.Short)
		}
	}
	return strings.Join(words, ", ")
}

// poseReasons says what speaks against one valve in the two poses. Comparisons with NaN, where a stem is missing, find
// nothing.
func poseReasons(before, after *View, common float64) []reason.Reason {
	var found []reason.Reason
	if before.Map.Foot > mostFootReach || after.Map.Foot > mostFootReach {
		found = append(found, table.With(ImpossiblePose, "the stem stands outside the head"))
	}
	if p, q := before.proportion(), after.proportion(); p > mostProportion*q || q > mostProportion*p {
		found = append(found, table.With(OtherValve, fmt.Sprintf("the head is %.1f and %.1f stems wide", p, q)))
	}
	if common < leastShare {
		detail := fmt.Sprintf("only %.0f %% of the valve is in both", 100*common)
		found = append(found, table.With(LittleInCommon, detail))
	}
	for _, v := range []*View{before, after} {
		if v.Map.Rough {
			found = append(found, table.With(RoughOutline, v.name()))
		}
	}
	return found
}
