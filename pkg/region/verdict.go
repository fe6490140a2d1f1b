package region

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"valvegrade/pkg/reason"
)

// judge collects the reasons that speak against the photo or the outline, those that refuse first. Marks are a person's
// word that a valve is there and where.
func (r *Region) judge(c *census) {
	frame := r.Evidence.Frame
	r.Reasons = faults(frame, stateLimit)
	if r.Source == Auto {
		r.Reasons = r.explain(frame)
	}
	if r.pixels() > 0 {
		r.Reasons = append(r.Reasons, r.warnings(c)...)
	}
}

// explain returns why an outline that nobody set by hand cannot be used: the photo's faults where they say it already.
func (r *Region) explain(frame Frame) []reason.Reason {
	share := float64(r.pixels()) / float64(len(r.Mask.Pix))
	switch {
	case share < smallestValve || frame.outOfSight():
		// Bad light hides a valve. Blur and motion are seen on one.
		light := slices.DeleteFunc(
			r.Reasons,
			func(f reason.Reason) bool { return f.Code == reason.Blurred || f.Code == reason.Moving },
		)
		if len(light) > 0 {
			return light
		}
		return []reason.Reason{reason.Of(reason.NoValve)}
	case r.belief() < leastBelief && r.Sighted < likelyValve:
		if surely := faults(frame, surelyFault); len(surely) > 0 {
			return surely
		}
		return []reason.Reason{reason.Of(reason.NoValve)}
	case len(r.Reasons) > 0:
		return r.Reasons
	case r.belief() < leastBelief:
		return []reason.Reason{reason.Of(frame.likeliestFault())}
	case r.Confidence < leastConfidence:
		return []reason.Reason{
			reason.With(
				reason.NoValve,
				fmt.Sprintf("what looks like an outline is expected to be %.0f %% right", 100*r.Confidence),
			),
		}
	}
	return nil
}

// faults returns what makes the photo as a whole impossible to judge, with at least this probability.
func faults(f Frame, least float64) []reason.Reason {
	var found []reason.Reason
	for _, state := range f.states() {
		if state.probability >= least {
			found = append(found, reason.Of(state.code))
		}
	}
	return found
}

type state struct {
	probability float64
	code        reason.Code
}

func (f Frame) states() []state {
	return []state{
		{f.Dark, reason.TooDark},
		{f.Bright, reason.TooBright},
		{f.Blurred, reason.Blurred},
		{f.Moving, reason.Moving},
	}
}

// likeliestFault returns why the net calls a photo impossible to judge though it sees a valve; no-valve when it has no
// idea.
func (f Frame) likeliestFault() reason.Code {
	likeliest := slices.MaxFunc(f.states(), func(a, b state) int { return cmp.Compare(a.probability, b.probability) })
	if likeliest.probability < suspicion {
		return reason.NoValve
	}
	return likeliest.code
}

// outOfSight reports whether the net takes its own mask for nothing.
func (f Frame) outOfSight() bool { return f.Overlap < leastOverlap }

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
	if r.Axis == nil {
		found = append(found, reason.Of(reason.StemHidden))
	}
	return found
}

// belief is what both looks together hold of the valve, a sum of logits: of the place, of the whole photo, and of what the
// second look says of its window and of its own mask.
func (r *Region) belief() float64 {
	frame := r.Evidence.Frame
	return logit(r.Sighted) + logit(r.PhotoJudgeable) + secondLookWeight*(logit(frame.Judgeable)+logit(frame.Overlap))
}

// logit of a probability, which counts as at most this sure.
func logit(p float64) float64 {
	p = min(max(p, 1-surestBelief), surestBelief)
	return math.Log(p / (1 - p))
}
