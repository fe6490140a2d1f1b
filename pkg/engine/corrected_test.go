package engine_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

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
	by := func(s engine.Shot, by string) engine.Shot {
		s.OutlinedBy = by
		return s
	}
	beside := func(s engine.Shot) engine.Shot {
		s.PaintBeside = true
		return s
	}
	left := outlined(shot(2, 1, 20, 4, 0.2, 0.9))
	left.LeftOut = &inspection.LeftOut{By: "Ann", Reason: "smeared"}
	e := combined(t, 2, 2, painted(outlined(shot(1, 1, 20, 4, 0.2, 0.9)), "Ann"), outlined(shot(1, 2, 20, 4, 0.2, 0.9)),
		by(outlined(painted(beside(shot(2, 2, 20, 4, 0.2, 0.9)), "")), "Ann"), shot(2, 1, 20, 4, 0.2, 0.9), left, outlined(refused(2, 1)))
	told := []string{
		"outline set by hand: cylinder 1 valve 1, cylinder 1 valve 2",
		"deposit classes painted by hand, by Ann: cylinder 1 valve 1",
		"outline set by hand, by Ann: cylinder 2 valve 2",
		"deposit classes painted by hand: cylinder 2 valve 2",
		"what was painted beside the valve was ignored: cylinder 2 valve 2",
	}
	assert.Subset(t, e.Notes, told, "of photos that count")
	assert.Equal(t, "Umriss von Hand gesetzt: Zylinder 1 Ventil 1, Zylinder 1 Ventil 2", texts.German.Say(told[0]))
	assert.Equal(t, "Klassen der Ablagerung von Hand gemalt, von Ann: Zylinder 1 Ventil 1", texts.German.Say(told[1]))
	assert.Equal(t, "Umriss von Hand gesetzt, von Ann: Zylinder 2 Ventil 2", texts.German.Say(told[2]))
	assert.Equal(t, "was neben das Ventil gemalt wurde, zählt nicht: Zylinder 2 Ventil 2", texts.German.Say(told[4]))

}

func TestCorrectionsOfAllValvesNameNone(t *testing.T) {
	outlined := func(cylinder, valve int) engine.Shot {
		s := shot(cylinder, valve, 20, 4, 0.2, 0.9)
		s.OutlinedByHand = true
		return s
	}
	for _, c := range []struct {
		engine       *engine.Engine
		told, german string
	}{
		{combined(t, 1, 2, outlined(1, 1), outlined(1, 2)), "outline set by hand: all valves", "Umriss von Hand gesetzt: alle Ventile"},
		{
			combined(t, 1, 3, outlined(1, 1), outlined(1, 2), refused(1, 3)), // one has no figure that rests on anything
			"outline set by hand: all valves that were graded", "Umriss von Hand gesetzt: alle bewerteten Ventile",
		},
		{combined(t, 1, 2, outlined(1, 1), refused(1, 2)), "outline set by hand: cylinder 1 valve 1", "Umriss von Hand gesetzt: Zylinder 1 Ventil 1"},
	} {
		assert.Contains(t, c.engine.Notes, c.told)
		assert.Equal(t, c.german, texts.German.Say(c.told))
	}
	open := inspection.Inspection{Engine: inspection.Layout{Cylinders: 4, Valves: 2}, Heard: []inspection.Place{{Cylinder: 1, Valve: 1}, {Cylinder: 3, Valve: 1}}}
	e, err := engine.Combine(&open, []engine.Shot{outlined(1, 1), outlined(3, 1)})
	require.NoError(t, err)
	assert.Equal(t, []string{"outline set by hand: all valves"}, e.Notes, "nobody says that there are others")
}
