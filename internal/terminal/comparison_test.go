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

func cleanedIndex() compare.Change {
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
		Index: cleanedIndex(), Coverage: cleanedIndex(), Common: 0.84, Registration: &compare.Registration{Method: compare.BySurface, Turn: -29},
		Zones: map[compare.Zone]compare.Part{
			compare.Rim: {Before: measure.Shares{Heavy: 1}, After: measure.Shares{Bare: math.NaN()}},
		},
		Reasons: []reason.Reason{{Code: compare.OtherValve, Advice: "too different\x1b[2J"}},
	}
	require.NoError(t, Comparison(&out, c))
	assert.Equal(t, `changed (forced): index 62.0 to 6.2: 90 % removed (85 to 94)

            BEFORE (95 %)        AFTER (95 %)      DIFFERENCE (95 %)       SMALLEST DETECTABLE
index       62.0 (57.0 to 68.0)  6.2 (4.0 to 9.0)  -55.8 (-62.0 to -50.0)  5.8
coverage    62.0 (57.0 to 68.0)  6.2 (4.0 to 9.0)  -55.8 (-62.0 to -50.0)  5.8
index, rim  100.0                0.0

"too different\x1b[2J"
84 % of the valve is in both photos; laid on each other by marks on its surface, which match when it is turned by -29°: it is one valve
`, out.String())
}

func TestRefusedComparisonInTheTerminal(t *testing.T) {
	var out strings.Builder
	c := &compare.Comparison{
		Index: compare.Change{Before: nothing, After: nothing, Difference: nothing, Detectable: math.NaN()},
		Reasons: []reason.Reason{
			{Code: compare.PhotoRefused, Advice: "a.jpg (blurred): retake"},
			{Code: compare.PhotoRefused, Advice: "b.jpg: retake"},
			{Code: compare.OtherVersions, Advice: "two versions"},
		},
	}
	require.NoError(t, Comparison(&out, c))
	assert.Equal(
		t,
		"not compared: a.jpg (blurred): retake\nnot compared: b.jpg: retake\n\ntwo versions\n",
		out.String(),
	)
}

func TestEngineComparisonInTheTerminal(t *testing.T) {
	var out strings.Builder
	unknown := compare.Change{Before: nothing, After: nothing, Difference: nothing, Detectable: math.NaN()}
	refused := &compare.Comparison{
		Index:   unknown,
		Reasons: []reason.Reason{{Code: compare.NoPhoto, Advice: "take a photo"}},
	}
	cleaned := &compare.Comparison{Compared: true, Verdict: compare.Changed, Index: cleanedIndex()}
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
		Verdict: compare.Changed, Notes: []string{"a note"},
		Cylinders: []compare.Cylinder{
			{
				Number: 1, Method: "blasting", Index: cleanedIndex(), Verdict: compare.Changed,
				Valves: []compare.Valve{{Number: 1, Comparison: cleaned}, {Number: 2, Comparison: refused}},
			},
			{Number: 2, Index: unknown, Valves: []compare.Valve{{Number: 1, Comparison: refused}}},
		},
	}
	require.NoError(t, EngineComparison(&out, e))
	assert.Equal(t, `fleet-17: 2026-03-14, before cleaning, to 2026-03-15, after cleaning: changed

            CLEANED BY  INDEX BEFORE  INDEX AFTER  DIFFERENCE (95 %)       REMOVED (95 %)   VERDICT
cylinder 1  blasting    62.0          6.2          -55.8 (-62.0 to -50.0)  90 % (85 to 94)  changed
  valve 1               62.0          6.2          -55.8 (-62.0 to -50.0)  90 % (85 to 94)  changed
  valve 2               -             -            -                       -                not compared
cylinder 2              -             -            -                       -                not compared

cylinder 1, blasting: index 62.0 to 6.2, valve 1 alone: 90 % removed (85 to 94); valve 2 not compared: take a photo
cylinder 2: not compared: take a photo
a note
`, out.String())
}
