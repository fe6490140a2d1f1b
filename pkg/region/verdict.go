package region

import (
	"fmt"

	"valvegrade/pkg/reason"
)

// judge collects the reasons that speak against the photo or the outline, those that refuse first.
//
// A fault of the photo explains why no valve is found in it, so no-valve stands only where the photo has no such fault.
// Marks are a person's word that a valve is there and where.
func (r *Region) judge(c *census) {
	r.Reasons = faults(r.Evidence.Frame)
	share := float64(r.HeadPixels+r.StemPixels) / float64(len(r.Mask.Pix))
	nothing := share < smallestValve || r.Evidence.Frame.Judgeable < stateLimit
	if r.Source == Auto && nothing && len(r.Reasons) == 0 {
		r.Reasons = append(r.Reasons, reason.Of(reason.NoValve))
	}
	if r.HeadPixels+r.StemPixels > 0 {
		r.Reasons = append(r.Reasons, r.warnings(c)...)
	}
}

// faults returns what makes the photo as a whole impossible to judge.
func faults(f Frame) []reason.Reason {
	var found []reason.Reason
	for _, state := range []struct {
		probability float64
		code        reason.Code
	}{
		{f.Dark, reason.TooDark}, {f.Bright, reason.TooBright}, {f.Blurred, reason.Blurred}, {f.Moving, reason.Moving},
	} {
		if state.probability >= stateLimit {
			found = append(found, reason.Of(state.code))
		}
	}
	return found
}

// warnings returns what the user should know about the outline.
func (r *Region) warnings(c *census) []reason.Reason {
	var found []reason.Reason
	if r.Confidence < lowConfidence {
		detail := fmt.Sprintf("the outline is expected to be %.0f %% right", 100*r.Confidence)
		found = append(found, reason.With(reason.LowConfidence, detail))
	}
	if c[Head].beyond() > cutOffShare {
		found = append(found, reason.Of(reason.CutOff))
	}
	if r.OtherValves > 0 {
		found = append(found, reason.Of(reason.OtherValve))
	}
	if r.Axis == nil {
		found = append(found, reason.Of(reason.StemHidden))
	}
	return found
}
