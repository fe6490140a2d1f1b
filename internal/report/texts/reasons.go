package texts

import (
	"strings"

	"valvegrade/pkg/compare"
	"valvegrade/pkg/reason"
)

// Reason is a label of a few words, what a customer is told, and one sentence of advice for the workshop.
type Reason struct{ Label, Told, Advice string }

// Reason returns the words for a reason found in a photo or a comparison. Its advice keeps the photo's own figures, but
// not what a marks file or a library said: that is for whoever scores, not for a report.
func (t *Texts) Reason(r reason.Reason) Reason {
	entry, known := entryOf(r.Code)
	if !known {
		return Reason{Label: string(r.Code), Told: string(r.Code), Advice: r.Advice}
	}
	if r.Code == reason.BadMarks || r.Code == reason.Failed {
		r.Advice = entry.Advice
	}
	own, translated := t.Reasons[r.Code]
	if !translated {
		return Reason{entry.Short, entry.Told, r.Advice}
	}
	if found, ok := strings.CutSuffix(r.WithoutTyping(), ": "+entry.Advice); ok {
		own.Advice = t.Say(found) + ": " + own.Advice
	}
	return own
}

// entryOf returns the row of a reason in the tables of photos and of comparisons.
func entryOf(code reason.Code) (reason.Entry, bool) {
	if entry, known := reason.Find(code); known {
		return entry, true
	}
	return compare.Table().Find(code)
}
