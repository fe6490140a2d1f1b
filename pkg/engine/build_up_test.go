package engine_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"valvegrade/pkg/deposit"
	"valvegrade/pkg/engine"
	"valvegrade/pkg/inspection"
	"valvegrade/pkg/measure"
)

// coated is a photo of a valve of which half carries crust, with so likely most of it heavy.
func coated(valve int, chance float64) engine.Shot {
	s := shot(1, valve, 40, 10, 0.2, 0.9)
	s.Dark = measure.Figure{Value: 50, Low: 40, High: 60}
	s.Asked, s.Heavy = true, deposit.MostlyHeavy{Share: measure.Figure{Value: 100 * chance, Low: 0, High: 100}, Chance: chance}
	return s
}

func TestBuildUpOfSeveralPhotos(t *testing.T) {
	bare := coated(1, math.NaN())
	bare.Dark, bare.Heavy.Share = measure.Exactly(0), measure.Unmeasured()
	old := shot(1, 1, 40, 10, 0.2, 0.9)
	leftOut := coated(1, 0.99)
	leftOut.LeftOut = &inspection.LeftOut{}
	for what, told := range map[string]struct {
		want  deposit.BuildUp
		shots []engine.Shot
	}{
		"none":                             {"", nil},
		"none that was asked":              {"", []engine.Shot{old, leftOut}},
		"one keeps its word":               {deposit.Thick, []engine.Shot{coated(1, 0.9), refused(1, 1)}},
		"nothing but bare metal":           {deposit.Unknown, []engine.Shot{bare}},
		"bare metal tells nothing":         {deposit.Thick, []engine.Shot{coated(1, 0.95), coated(1, 0.95), coated(1, 0.95), bare, old}},
		"but that there may be none":       {deposit.Unknown, []engine.Shot{coated(1, 0.95), bare}},
		"who agree are surer than each":    {deposit.Thick, []engine.Shot{coated(1, 0.86), coated(1, 0.86)}},
		"thin takes more":                  {deposit.Unknown, []engine.Shot{coated(1, 0.1), coated(1, 0.1)}},
		"and is told by many":              {deposit.Thin, []engine.Shot{coated(1, 0.03), coated(1, 0.04), coated(1, 0.04)}},
		"who contradict each other do not": {deposit.Unknown, []engine.Shot{coated(1, 0.95), coated(1, 0.01)}},
	} {
		assert.Equal(t, told.want, combined(t, 1, 1, told.shots...).Cylinders[0].Valves[0].BuildUp, what)
	}
}

// A photo that shows twice the dark deposit has twice the say.
func TestPhotosWeighByTheDarkDepositTheyShow(t *testing.T) {
	more, less := coated(1, 0.9), coated(1, 0.3)
	less.Dark.Value = 25
	v := combined(t, 1, 1, more, less).Cylinders[0].Valves[0]
	assert.InDelta(t, (2*90+30)/3.0, v.Heavy.Share.Value, 1e-9)
}

func TestACylinderHasTheBuildUpOfItsWorstValve(t *testing.T) {
	worst := coated(2, 0.99)
	worst.Index = measure.Figure{Value: 60, Low: 50, High: 70}
	e := combined(t, 1, 2, coated(1, 0.01), worst)
	assert.Equal(t, deposit.Thin, e.Cylinders[0].Valves[0].BuildUp)
	assert.Equal(t, deposit.Thick, e.Cylinders[0].BuildUp)
}
