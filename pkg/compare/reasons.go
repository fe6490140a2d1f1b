package compare

import (
	"fmt"
	"slices"

	"valvegrade/pkg/reason"
)

// The reasons of a comparison, beside those of its photos (package reason). Refusing reasons stand first.
const (
	PhotoRefused   reason.Code = "photo-refused"
	NoOutline      reason.Code = "no-outline"
	ImpossiblePose reason.Code = "impossible-pose"
	OtherValve     reason.Code = "proportions-differ"
	LittleInCommon reason.Code = "little-in-common"
	NoPhoto        reason.Code = "no-photo"

	SamePhoto     reason.Code = "same-photo"
	OtherName     reason.Code = "names-differ"
	RoughOutline  reason.Code = "rough-outline"
	AngleUnknown  reason.Code = "angle-unknown"
	FiguresOnly   reason.Code = "figures-only"
	OtherVersions reason.Code = "other-versions"
	OnYourWord    reason.Code = "on-your-word"
)

// supposed tells of supposedShare.
var supposed = fmt.Sprintf("with intervals as if %.0f %% of the valve were in both", 100*supposedShare)

// table holds the advice for each reason, in the order in which they are told. refuses is true when nothing is compared unless forced.
var table = []struct {
	code    reason.Code
	refuses bool
	advice  string
}{
	{PhotoRefused, true, "retake the photo, or choose another of this valve"},
	{NoPhoto, true, "take a photo of this valve in both inspections"},
	{NoOutline, true, "too little rim is in view to lay the photos on each other: retake with the whole head in view, or set marks by hand"},
	{ImpossiblePose, true, "no valve looks like this in any pose: check the outlines in the overlay and set marks by hand"},
	{OtherValve, true, "these cannot be the proportions of one valve: check that both photos show it, and the outlines in the overlay"},
	{LittleInCommon, true, "the two photos show too little of the same surface: retake one from where the other was taken"},

	{SamePhoto, false, "both files hold the same photo: no change can be seen in it"},
	{OtherName, false, "by their names these are photos of two valves: check that both show the same one"},
	{RoughOutline, false, "little of the rim is in view, so what is where is rough: move back until the whole head is in view"},
	{AngleUnknown, false, "the stem is out of view in one photo and the surfaces do not match: whole valves were compared, not only what both show, " + supposed + ", and that it is one valve is taken on your word"},
	{FiguresOnly, false, "the whole valves were compared by their figures, not what both photos show, " + supposed +
		": another measurement, which may come to another verdict than the photos would; no map, no zones, and that it is one valve is taken on your word"},
	{OtherVersions, false, "the two results were made by different versions of the program: part of the difference may be theirs"},
	{OnYourWord, false, "that both photos show one valve is taken on your word, and clock positions are rough: only the direction of the stem laid them on each other"},
}

// because returns a reason; detail, when not "", says what was found in this case.
func because(code reason.Code, detail string) reason.Reason {
	for _, row := range table {
		if row.code == code {
			if detail != "" {
				detail += ": "
			}
			return reason.Reason{Code: code, Advice: detail + row.advice}
		}
	}
	panic("compare: reason " + string(code) + " is not in the table")
}

// Refuses reports whether any of the reasons stops a comparison that is not forced.
func Refuses(reasons []reason.Reason) bool {
	return slices.ContainsFunc(reasons, refusing)
}

func refusing(r reason.Reason) bool {
	for _, row := range table {
		if row.code == r.Code {
			return row.refuses
		}
	}
	return false
}
