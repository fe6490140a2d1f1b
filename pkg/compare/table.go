package compare

import (
	"valvegrade/pkg/reason"
)

var table = reason.Entries{
	refusal(PhotoRefused, "photo refused", "a photo of this valve could not be graded",
		"choose another photo of this valve, or retake it if the valve is still as it was"),
	refusal(NoPhoto, "no photo", "this valve was not photographed in both inspections",
		"photograph every valve at each inspection"),
	refusal(ImpossiblePose, "impossible pose", "the outlines in the photos fit no valve",
		"no valve looks like this in any pose: check the outlines in the overlay and set marks by hand"),
	refusal(OtherValve, "proportions differ", "the photos do not seem to show one valve",
		"these cannot be the proportions of one valve: check that both photos show it, and the outlines in the "+
			"overlay"),
	refusal(LittleInCommon, "little in common", "the photos show too little of the same surface",
		"the two photos show too little of the same surface: retake one from where the other was taken"),
	refusal(SamePhoto, "same photo", "both files hold the same photo",
		"both files hold the same photo, in which no change can be seen: give the photo that was taken at the other "+
			"inspection"),

	{
		Code: OtherName, Short: "names differ", Told: "by their names the photos that were compared show two valves",
		Advice: "by their names these are photos of two valves: check that both show the same one",
	},
	caution(TakenEarlier, "taken earlier",
		"by the camera's clock the second photo was taken before the first: check that they are not the wrong way round"),
	caution(RoughOutline, "rough outline",
		"little of the rim is in view, so what is where is rough: move back until the whole head is in view"),
	caution(NoOutline, "too little rim",
		"too little rim is in view in one photo to lay the two on each other: whole valves were compared, not only what "+
			"both show, and that it is one valve is taken on your word; retake with the whole head in view, or set marks "+
			"by hand"),
	caution(AngleUnknown, "stem not visible",
		"the stem is out of view in one photo and the surfaces do not match: whole valves were compared, not "+
			"only what both show, and that it is one valve is taken on your word"),
	caution(FiguresOnly, "figures only",
		"a result without the map of its valve cannot be compared: the figures stand side by side, and no change is "+
			"claimed; score the photos again"),
	caution(OtherVersions, "other versions",
		"the two results were made by different versions of the program: part of the difference may be theirs"),
	caution(OnYourWord, "on your word",
		"that both photos show one valve is taken on your word, and clock positions are rough: only the "+
			"direction of the stem laid them on each other"),
	caution(LargestOnly, "largest only",
		"the largest of each photo were compared: check that they are one valve, or take both photos from one place"),
	caution(SameOrder, "same order",
		"that both photos show the valves in one order, from left to right, is taken on your word"),
	caution(OutlineByHand, "outline by hand", "the outline was set by hand, and is taken at its word"),
	caution(PaintedByHand, "painted by hand", "deposit classes were painted by hand, and count as they were painted"),
	caution(PaintIgnored, "paint ignored", "what was painted beside the valve was ignored"),
}

func refusal(code reason.Code, short, told, advice string) reason.Entry {
	return reason.Entry{Code: code, Refuses: true, Short: short, Told: told, Advice: advice}
}

func caution(code reason.Code, short, advice string) reason.Entry {
	return reason.Entry{Code: code, Short: short, Advice: advice}
}

// Table returns every reason with a comparison in a fixed order. The caller owns the slice.
func Table() reason.Entries { return append(reason.Entries(nil), table...) }
