package terminal

import (
	"bytes"
	"math"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"valvegrade/pkg/deposit"
	"valvegrade/pkg/engine"
	"valvegrade/pkg/grade"
	"valvegrade/pkg/inspection"
	"valvegrade/pkg/measure"
	"valvegrade/pkg/trend"
)

// inspected is an inspection with the given index of each valve, +-4 points, by cylinder; NaN is a refused photo.
func inspected(t *testing.T, i inspection.Inspection, cylinders ...[]float64) *engine.Engine {
	t.Helper()
	i.Engine = inspection.Layout{Cylinders: len(cylinders), Valves: len(cylinders[0])}
	var shots []engine.Shot
	for c, valves := range cylinders {
		for v, index := range valves {
			m := measure.Figure{Value: index, Low: math.Max(0, index-4), High: index + 4}
			shots = append(
				shots,
				engine.Shot{
					Photo:      inspection.Photo{Cylinder: c + 1, Valve: v + 1},
					Reading:    measure.Reading{Index: m, Dark: m, Coverage: m},
					Grades:     grade.OfInterval(m),
					Heavy:      deposit.MostlyHeavy{Share: m, Chance: index / 55},
					Asked:      true,
					Area:       0.2,
					Confidence: 0.9,
				},
			)
			if math.IsNaN(index) {
				shots[len(shots)-1].Refusals = []string{"too dark"}
			}
		}
	}
	e, err := engine.Combine(&i, shots)
	require.NoError(t, err)
	return e
}

func facts() inspection.Inspection {
	return inspection.Inspection{
		Vehicle: "fleet-17", Date: time.Date(2026, 3, 14, 0, 0, 0, 0, time.UTC),
		Odometer: inspection.Odometer{
			Value: 45210,
			Unit:  inspection.Miles,
		}, Stage: inspection.After, Methods: map[int]string{1: "blasting"},
	}
}

func TestEngineListsCylindersAndTheirValves(t *testing.T) {
	var out bytes.Buffer
	require.NoError(t, Engine(&out, inspected(t, facts(), []float64{1, 8}, []float64{52, math.NaN()}), 120))
	assert.Equal(t, `
fleet-17, 2026-03-14, 45 210 mi, after cleaning

                   GRADE       0-4    DARK DEPOSIT     INDEX (95 %)   PHOTOS  CLEANED BY  SPREAD  BUILD-UP
cylinder 1         1 film      ▁█▁▁▁  8 % (4 to 12)    8 (4 to 12)            blasting            not told
  valve 1          0 bare      ▆▃▁▁▁  1 % (0 to 5)     1 (0 to 5)     1 of 1              -       -
  valve 2          1 film      ▁█▁▁▁  8 % (4 to 12)    8 (4 to 12)    1 of 1              -       not told
cylinder 2         3 crusted   ▁▁▁█▁  52 % (48 to 56)  52 (48 to 56)          left alone          thick
  valve 1          3 crusted   ▁▁▁█▁  52 % (48 to 56)  52 (48 to 56)  1 of 1              -       thick
  valve 2          not graded         -                -              0 of 1              -       -
worst cylinder, 2  3 crusted   ▁▁▁█▁                   52 (48 to 56)
median cylinder    2 patchy    ▁▁█▁▁                   30 (26 to 34)

cylinder 2 valve 2 has no photo that could be judged: too dark
`, out.String())
}

func TestCylindersWithOneValveAreOneRow(t *testing.T) {
	i := facts()
	i.Stage = inspection.Routine
	var out bytes.Buffer
	require.NoError(t, Engine(&out, inspected(t, i, []float64{41}, []float64{math.NaN()}), 80))
	assert.Equal(t, `
fleet-17, 2026-03-14, 45 210 mi, routine inspection

                   GRADE       0-4    DARK DEPOSIT     PHOTOS  CLEANED BY
cylinder 1         3 crusted   ▁▁▃▆▁  41 % (37 to 45)  1 of 1  blasting
cylinder 2         not graded         -                0 of 1
worst cylinder, 1  3 crusted   ▁▁▃▆▁  of 1 graded
median cylinder    3 crusted   ▁▁▃▆▁  of 1 graded

cylinder 2 valve 1 has no photo that could be judged: too dark
`, out.String())
}

func TestAnOnlyCylinderIsNeitherWorstNorMedian(t *testing.T) {
	e := inspected(t, facts(), []float64{41, 30})
	var out bytes.Buffer
	require.NoError(t, Engine(&out, e, 80))
	assert.Contains(t, out.String(), "cylinder 1")
	assert.NotRegexp(t, "worst cylinder|median", out.String())

	tr, err := trend.Of([]*engine.Engine{e}, "")
	require.NoError(t, err)
	out.Reset()
	require.NoError(t, Trend(&out, tr, false, 80))
	assert.Contains(t, out.String(), "cylinder 1")
	assert.NotRegexp(t, "worst cylinder|median", out.String())
}
