package engine_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"valvegrade/internal/report/texts"
	"valvegrade/pkg/engine"
	"valvegrade/pkg/inspection"
)

func TestCorrectionsAreTold(t *testing.T) {
	painted := func(s engine.Shot, by string) engine.Shot {
		s.Painted, s.PaintedBy = true, by
		return s
	}
	outlined := func(s engine.Shot) engine.Shot {
		s.OutlinedByHand = true
		return s
	}
	left := outlined(shot(2, 1, 20, 4, 0.2, 0.9))
	left.LeftOut = &inspection.LeftOut{By: "Ann", Reason: "smeared"}
	e := combined(t, 2, 2, painted(outlined(shot(1, 1, 20, 4, 0.2, 0.9)), "Ann"), outlined(shot(1, 2, 20, 4, 0.2, 0.9)),
		painted(shot(2, 2, 20, 4, 0.2, 0.9), ""), shot(2, 1, 20, 4, 0.2, 0.9), left, outlined(refused(2, 1)))
	told := []string{
		"outline set by hand: cylinder 1 valve 1, cylinder 1 valve 2",
		"deposit classes painted by hand, by Ann: cylinder 1 valve 1",
		"deposit classes painted by hand: cylinder 2 valve 2",
	}
	assert.Subset(t, e.Notes, told, "of photos that count")
	assert.Equal(t, "Umriss von Hand gesetzt: Zylinder 1 Ventil 1, Zylinder 1 Ventil 2", texts.German.Say(told[0]))
	assert.Equal(t, "Klassen der Ablagerung von Hand gemalt, von Ann: Zylinder 1 Ventil 1", texts.German.Say(told[1]))

	all := combined(t, 1, 2, outlined(shot(1, 1, 20, 4, 0.2, 0.9)), outlined(shot(1, 2, 20, 4, 0.2, 0.9)))
	assert.Contains(t, all.Notes, "outline set by hand: all valves")
	assert.Equal(t, "Umriss von Hand gesetzt: alle Ventile", texts.German.Say("outline set by hand: all valves"))
}
