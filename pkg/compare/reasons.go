package compare

import "valvegrade/pkg/reason"

// The reasons of a comparison, beside those of its photos (package reason). Refusing reasons stand first.
const (
	PhotoRefused   reason.Code = "photo-refused"
	ImpossiblePose reason.Code = "impossible-pose"
	OtherValve     reason.Code = "proportions-differ"
	LittleInCommon reason.Code = "little-in-common"
	NoPhoto        reason.Code = "no-photo"
	SamePhoto      reason.Code = "same-photo"

	OtherName     reason.Code = "names-differ"
	TakenEarlier  reason.Code = "taken-earlier"
	RoughOutline  reason.Code = "rough-outline"
	NoOutline     reason.Code = "no-outline"
	AngleUnknown  reason.Code = "angle-unknown"
	FiguresOnly   reason.Code = "figures-only"
	OtherVersions reason.Code = "other-versions"
	OnYourWord    reason.Code = "on-your-word"
	LargestOnly   reason.Code = "largest-only"
	SameOrder     reason.Code = "same-order"
	OutlineByHand reason.Code = "outline-by-hand"
	PaintedByHand reason.Code = "painted-by-hand"
	PaintIgnored  reason.Code = "paint-ignored"
)

// Refuses reports whether any of the reasons stops a comparison that is not forced.
func Refuses(reasons []reason.Reason) bool { return table.Refuses(reasons) }
