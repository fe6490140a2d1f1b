package grade

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestDecisionsHaveOneRuleEach(t *testing.T) {
	for _, c := range []struct {
		p         Probabilities
		want      Decision
		certainty float64
		sentence  string
	}{
		{Probabilities{0, 0, 0.1, 0.5, 0.4}, CleaningDue, 0.9, "cleaning due: 90 %"},
		{Probabilities{0.5, 0.42, 0.08, 0, 0}, NothingToDo, 0.92, "nothing to do: 92 %"},
		{Probabilities{0.2, 0.3, 0.45, 0.05, 0}, NotYetDue, 0.95, "no cleaning due yet: 95 %"},
		{Probabilities{0, 0.3, 0.3, 0.3, 0.1}, CannotSay, 0.4, "cannot say (cleaning due: 40 %), at least grade 1"},
		{Probabilities{0, 0.02, 0.5, 0.4, 0.08}, CannotSay, 0.48, "cannot say (cleaning due: 48 %), at least grade 2"},
		{Probabilities{0, 0, 0.103, 0.497, 0.4}, CannotSay, 0.897, "cannot say (cleaning due: 89 %), at least grade 2"}, // 90 % decides
		{Probabilities{0, 0.5, 0.396, 0.104, 0}, CannotSay, 0.104, "cannot say (cleaning due: 11 %), at least grade 1"},
		{Probabilities{0, 0.5, 0.4, 0.1, 0}, NotYetDue, 0.9, "no cleaning due yet: 90 %"},
		{Probabilities{1, 0, 0, 0, 0}, NothingToDo, 1, "nothing to do: 99 %"}, // a photo never makes it certain
	} {
		decision, certainty := c.p.Decide()
		assert.Equal(t, c.want, decision, "%v", c.p)
		assert.InDelta(t, c.certainty, certainty, 1e-12)
		assert.Equal(t, c.sentence, c.p.Sentence())
	}
}

func TestPracticeFollowsTheDecisionAndNotThePointAlone(t *testing.T) {
	for _, c := range []struct {
		decision    Decision
		value, want int
		thin        bool
	}{
		{CannotSay, 1, -1, false}, {"", 2, -1, false},
		{CleaningDue, 4, 4, false}, {CleaningDue, 4, 3, true}, {CleaningDue, 2, 3, false},
		{NothingToDo, 0, 0, false}, {NothingToDo, 2, 1, false}, {NotYetDue, 3, 2, false},
	} {
		assert.Equal(t, c.want, c.decision.Practised(c.value, c.thin), "%s at %d, thin: %v", c.decision, c.value, c.thin)
	}
}
