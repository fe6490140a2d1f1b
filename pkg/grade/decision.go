package grade

import (
	"fmt"

	"valvegrade/internal/number"
)

// Certain is the probability from which on a decision is made; Sure the one from which a least grade is named.
const (
	Certain = 0.90
	Sure    = 0.95
)

// Decision is what the probabilities of the grades allow to say about a cleaning.
type Decision string

// The decisions, each by one rule, in this order:
//
//   - cleaning is due when the index is 40 or more (grade 3 or 4) with a probability of at least Certain;
//   - there is nothing to do when it is below 15 (grade 0 or 1) with at least that;
//   - no cleaning is due yet when it is below 40 with at least that: watch;
//   - otherwise the photo cannot say, and another one is wanted.
const (
	CleaningDue Decision = "cleaning-due"
	NothingToDo Decision = "nothing-to-do"
	NotYetDue   Decision = "not-yet-due"
	CannotSay   Decision = "cannot-say"
)

// Decide returns the decision and the probability that it is right; of CannotSay, that cleaning is due. It is "" and
// NaN where nothing was measured.
func (p Probabilities) Decide() (Decision, float64) {
	due, little := p.Due(), 1-p.AtLeast(2)
	switch {
	case !p.Known():
		return "", due
	case due >= Certain:
		return CleaningDue, due
	case little >= Certain:
		return NothingToDo, little
	case 1-due >= Certain:
		return NotYetDue, 1 - due
	}
	return CannotSay, due
}

// Surely returns the highest grade that is reached or passed with a probability of at least Sure; 0 says nothing.
func (p Probabilities) Surely() int {
	for value := Grades - 1; value > 0; value-- {
		if p.AtLeast(value) >= Sure {
			return value
		}
	}
	return 0
}

// Retake is what helps where a photo cannot say.
const Retake = "retake closer, with the lamp from the other side"

// Sentence says what the probabilities decide, in a few words: "cleaning due: 94 %", "cannot say (cleaning due: 41 %),
// at least grade 2". It is "" where nothing was measured.
func (p Probabilities) Sentence() string {
	decision, certainty := p.Decide()
	switch decision {
	case CleaningDue:
		return "cleaning due: " + CertaintyText(certainty)
	case NothingToDo:
		return "nothing to do: " + CertaintyText(certainty)
	case NotYetDue:
		return "no cleaning due yet: " + CertaintyText(certainty)
	case CannotSay:
		if least := p.Surely(); least > 0 {
			return fmt.Sprintf("cannot say (cleaning due: %s), at least grade %d", CertaintyText(certainty), least)
		}
		return fmt.Sprintf("cannot say (cleaning due: %s)", CertaintyText(certainty))
	}
	return ""
}

// Percent writes a probability, never as 100 or 0 %: nothing that a photo shows is certain.
func Percent(share float64) string { return number.Text(Likely(share), 0) + " %" }

// Likely is a probability in percent, 1 to 99, of which Percent tells why.
func Likely(share float64) float64 { return min(99, max(1, 100*share)) }

// CertaintyText writes the probability that Decide returns, as Percent does, but for rounding as in Certainty.
func CertaintyText(share float64) string { return number.Text(Certainty(share), 0) + " %" }

// Certainty is the probability that Decide returns in whole percent, 1 to 99. What falls short of Certain, one way or the
// other, is not rounded to it: it would read as if it had decided.
func Certainty(share float64) float64 {
	const decides = 100 * Certain
	percent := number.Shown(Likely(share), 0)
	switch {
	case share < Certain && percent >= decides:
		return decides - 1
	case 1-share < Certain && percent <= 100-decides:
		return 100 - decides + 1
	}
	return percent
}
