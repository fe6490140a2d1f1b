package terminal

import (
	"math"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"valvegrade/pkg/compare"
	"valvegrade/pkg/inspection"
	"valvegrade/pkg/measure"
	"valvegrade/pkg/reason"
)

var nothing = measure.Figure{Value: math.NaN(), Low: math.NaN(), High: math.NaN()}

// cleaned is the change of each figure; its draws are not known here, so that what was removed has no interval.
func cleaned() compare.Changes {
	c := cleanedFigure()
	return compare.Changes{Index: c, Dark: c, Coverage: c}
}

func cleanedFigure() compare.Change {
	return compare.Change{
		Before: measure.Figure{Value: 62, Low: 57, High: 68}, After: measure.Figure{Value: 6.2, Low: 4, High: 9},
		Difference: measure.Figure{Value: -55.8, Low: -62, High: -50}, Detectable: 5.8,
	}
}

func TestComparisonInTheTerminal(t *testing.T) {
	var out strings.Builder
	c := &compare.Comparison{
		Before: &compare.View{
			Photo: "a.jpg",
		}, After: &compare.View{Photo: "b.jpg"}, Compared: true, Forced: true, Verdict: compare.Changed,
		Changes: cleaned(), Common: 0.84, Registration: &compare.Registration{Method: compare.BySurface, Turn: -29},
		Zones: map[compare.Zone]compare.Part{
			compare.Rim: {Before: measure.Shares{Heavy: 1}, After: measure.Shares{Bare: math.NaN()}},
		},
		Reasons: []reason.Reason{{Code: compare.OtherValve, Advice: "too different\x1b[2J"}},
	}
	require.NoError(t, Comparison(&out, c, 80))
	assert.Equal(t, `changed (forced): dark deposit from 62 % to 6 %: 90 % removed (90 to 90); index
    from 62 to 6

95 %             BEFORE         AFTER       DIFFERENCE        SURE ABOVE
dark deposit, %  62 (57 to 68)  6 (4 to 9)  -56 (-62 to -50)  6
index            62 (57 to 68)  6 (4 to 9)  -56 (-62 to -50)  6
  index, rim     100            0

"too different\x1b[2J"
84 % of the valve is in both photos; laid on each other by marks on its surface,
    which match when it is turned by -29°: it is one valve
`, out.String())
}

func TestRefusedComparisonInTheTerminal(t *testing.T) {
	var out strings.Builder
	c := &compare.Comparison{
		Changes: unmeasured(),
		Reasons: []reason.Reason{
			{Code: compare.PhotoRefused, Advice: "a.jpg (blurred): retake"},
			{Code: compare.PhotoRefused, Advice: "b.jpg: retake"},
			{Code: compare.OtherVersions, Advice: "two versions"},
		},
	}
	require.NoError(t, Comparison(&out, c, 80))
	assert.Equal(
		t,
		"not compared: a.jpg (blurred): retake\nnot compared: b.jpg: retake\n\ntwo versions\n",
		out.String(),
	)
}

func TestEngineComparisonInTheTerminal(t *testing.T) {
	var out strings.Builder
	refused := &compare.Comparison{
		Changes: unmeasured(),
		Reasons: []reason.Reason{{Code: compare.NoPhoto, Advice: "take a photo"}},
	}
	one := &compare.Comparison{Compared: true, Verdict: compare.Changed, Changes: cleaned()}
	e := &compare.Engine{
		Before: &inspection.Inspection{
			Vehicle: "fleet-17",
			Date:    time.Date(2026, 3, 14, 0, 0, 0, 0, time.UTC),
			Stage:   inspection.Before,
		},
		After: &inspection.Inspection{
			Vehicle: "fleet-17",
			Date:    time.Date(2026, 3, 15, 0, 0, 0, 0, time.UTC),
			Stage:   inspection.After,
		},
		Verdict: compare.Changed, Changes: cleaned(), Notes: []string{"a note"},
		Cylinders: []compare.Cylinder{
			{
				Number: 1, Method: "blasting", Changes: cleaned(), Verdict: compare.Changed,
				Valves: []compare.Valve{{Number: 1, Comparison: one}, {Number: 2, Comparison: refused}},
			},
			{Number: 2, Changes: unmeasured(), Valves: []compare.Valve{{Number: 1, Comparison: refused}}},
		},
	}
	require.NoError(t, EngineComparison(&out, e, 80))
	assert.Equal(t, `fleet-17: 2026-03-14, before cleaning, to 2026-03-15, after cleaning
helped (99 % likely): dark deposit from 62 % to 6 % (1 of 3 valves)

95 %           DARK, %  DIFFERENCE        INDEX   DIFFERENCE        VERDICT
cylinder 1     62 → 6   -56 (-62 to -50)  62 → 6  -56 (-62 to -50)  changed
  valve 1      62 → 6   -56 (-62 to -50)  62 → 6  -56 (-62 to -50)  changed
  valve 2      -        -                 -       -                 -
cylinder 2     -        -                 -       -                 -
1 of 3 valves  62 → 6   -56 (-62 to -50)  62 → 6  -56 (-62 to -50)  changed

cylinder 1, blasting: dark deposit from 62 % to 6 %, valve 1 alone: 90 % removed
    (90 to 90); index from 62 to 6; valve 2 not compared: take a photo
cylinder 2: not compared: take a photo
a note
`, out.String())
}

// "changed" beside a difference of the dark deposit whose interval holds 0 would read as a contradiction.
func TestVerdictNamesTheFigureThatChanged(t *testing.T) {
	c := cleaned()
	assert.Equal(t, "changed", verdictCell(c))
	c.Dark = compare.Change{
		Before: measure.Figure{Value: 13, Low: 6, High: 22}, After: measure.Figure{Value: 4, Low: 0, High: 14},
		Difference: measure.Figure{Value: -9, Low: -21, High: 5}, Detectable: 14,
	}
	assert.Equal(t, "index changed", verdictCell(c))
	c.Index = c.Dark
	assert.Equal(t, "no sure change", verdictCell(c))
	assert.Equal(t, unknown, verdictCell(unmeasured()))
}

// An index reads as in a report, and as its grade.
func TestComparisonsWriteAnIndexSoThatItKeepsItsGrade(t *testing.T) {
	c := compare.Changes{
		Index: compare.Change{
			Before: measure.Figure{Value: 39.9, Low: 31, High: 52}, After: measure.Figure{Value: 14.6, Low: 9.4, High: 19},
			Difference: measure.Figure{Value: -25.3, Low: -33, High: -18}, Detectable: 7,
		},
		Dark: cleanedFigure(),
	}
	one := &compare.Comparison{
		Compared: true, Verdict: compare.Changed, Changes: c,
		Zones: map[compare.Zone]compare.Part{compare.Rim: {Before: measure.Shares{Heavy: 1}, After: measure.Shares{Heavy: 0.146}}},
	}
	var pair, whole strings.Builder
	require.NoError(t, Comparison(&pair, one, 80))
	assert.Contains(t, pair.String(), "\nindex            39.9 (31 to 52)  14.6 (9 to 19)  -25 (-33 to -18)  7\n")
	assert.Contains(t, pair.String(), "\n  index, rim     100              14.6\n")
	i := &inspection.Inspection{Vehicle: "fleet-17", Stage: inspection.Routine}
	e := &compare.Engine{Before: i, After: i, Changes: c, Cylinders: []compare.Cylinder{
		{Number: 1, Changes: c, Valves: []compare.Valve{{Number: 1, Comparison: one}}},
	}}
	require.NoError(t, EngineComparison(&whole, e, 80))
	assert.Contains(t, whole.String(), "\ncylinder 1  62 → 6   -56 (-62 to -50)  39.9 → 14.6  -25 (-33 to -18)  changed\n")
}

func unmeasured() compare.Changes {
	unknown := compare.Change{Before: nothing, After: nothing, Difference: nothing, Detectable: math.NaN()}
	return compare.Changes{Index: unknown, Dark: unknown, Coverage: unknown}
}
