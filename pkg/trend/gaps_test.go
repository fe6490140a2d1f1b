package trend_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"valvegrade/pkg/engine"
	"valvegrade/pkg/inspection"
	"valvegrade/pkg/measure"
	"valvegrade/pkg/trend"
)

// unread stands for a valve that was too dark to judge.
var unread = math.NaN()

// pairs is an inspection of cylinders with two valves each.
func pairs(t *testing.T, day int, miles float64, indices ...[2]float64) *engine.Engine {
	t.Helper()
	i := *routine(day, miles, make([]float64, len(indices))...).Inspection
	i.Engine.Valves = 2
	var shots []engine.Shot
	for c, pair := range indices {
		for v, index := range pair {
			m := measure.Figure{Value: index, Low: math.Max(0, index-4), High: math.Min(100, index+4)}
			shots = append(shots, engine.Shot{
				Photo:   inspection.Photo{Cylinder: c + 1, Valve: v + 1},
				Reading: measure.Reading{Index: m, Dark: m, Coverage: m}, Area: 0.2, Confidence: 0.9,
			})
		}
	}
	e, err := engine.Combine(&i, shots)
	require.NoError(t, err)
	return e
}

func values(t *testing.T, tr *trend.Trend, name string) []float64 {
	t.Helper()
	lines := find(t, tr, name).Lines
	require.NotEmpty(t, lines, name)
	var all []float64
	for _, r := range lines[len(lines)-1].Readings {
		all = append(all, r.Index.Value)
	}
	return all
}

// Of two inspections nothing would be left without the one that lacks a valve: the other valve of the cylinder goes on.
func TestAValveThatOneOfTwoInspectionsLacksIsLeftOut(t *testing.T) {
	tr := of(t, pairs(t, 1, 10000, [2]float64{10, 12}, [2]float64{20, 22}), pairs(t, 50, 20000, [2]float64{15, 16}, [2]float64{28, unread}))
	assert.Equal(t, []float64{20, 28}, values(t, tr, "cylinder 2"))
	assert.Equal(t, []float64{20, 28}, values(t, tr, "worst cylinder"))
	assert.Equal(t, []float64{16, 22}, values(t, tr, "median cylinder"))
	assert.Equal(t, []float64{12, 16}, values(t, tr, "cylinder 1"), "which lacks nothing")
	require.Len(t, tr.Notes, 3)
	assert.Equal(t, "cylinder 2 is told without cylinder 2 valve 2, which was not measured at 20 000 mi on 2026-02-19: "+
		"else too few inspections compare", tr.Notes[2])
}

// With three, two that compare whole cylinders say more.
func TestAnInspectionThatLacksAValveIsLeftOutWhereTwoRemain(t *testing.T) {
	tr := of(t,
		pairs(t, 1, 10000, [2]float64{10, 12}, [2]float64{20, 22}),
		pairs(t, 50, 20000, [2]float64{15, 16}, [2]float64{28, unread}),
		pairs(t, 90, 30000, [2]float64{19, 20}, [2]float64{33, 35}),
	)
	assert.Equal(t, []float64{22, 35}, values(t, tr, "cylinder 2"))
	assert.Contains(t, tr.Notes, "cylinder 2 at 20 000 mi on 2026-02-19 was left out: cylinder 2 valve 2 was not measured, so the figure does not compare")
}

// A cylinder of which nothing was measured is missed in its own row, too, and the worst is not told without it.
func TestACylinderThatWasNotMeasuredIsTold(t *testing.T) {
	tr := of(t, pairs(t, 1, 10000, [2]float64{10, 12}, [2]float64{20, 22}), pairs(t, 50, 20000, [2]float64{15, 16}, [2]float64{unread, unread}))
	assert.Equal(t, []float64{22}, values(t, tr, "cylinder 2"))
	assert.Equal(t, []float64{22}, values(t, tr, "worst cylinder"))
	assert.Contains(t, tr.Notes, "cylinder 2 at 20 000 mi on 2026-02-19 was left out: none of its valves was measured")
}
