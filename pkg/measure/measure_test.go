package measure

import (
	"encoding/json"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Quantiles of tables printed in many textbooks, such as Fisher & Yates, "Statistical Tables" (1963), tables I and III.
func TestQuantilesOfTheTables(t *testing.T) {
	assert.InDelta(t, 1.959964, Normal975, 5e-7)
	for df, want := range map[float64]float64{1: 12.706, 2: 4.303, 5: 2.571, 30: 2.042} {
		assert.InDelta(t, want, Student975(df), 5e-4, "%v degrees of freedom", df)
	}
}

func TestIndexIsAreaTimesLevel(t *testing.T) {
	s := SharesOf([4]float64{2, 4, 1, 1})
	assert.Equal(t, Shares{Bare: 0.25, Film: 0.5, Medium: 0.125, Heavy: 0.125}, s)
	assert.InDelta(t, 100*(0.125+0.5*0.125+0.25*0.5), s.Index(), 1e-12)
	assert.InDelta(t, 75, s.Coverage(), 1e-12)
	assert.True(t, math.IsNaN(SharesOf([4]float64{}).Index()), "nothing readable is not bare")
	assert.True(t, math.IsNaN(NoShares().Coverage()))
}

func TestIntervalStandsForASpread(t *testing.T) {
	assert.InDelta(t, 2, Figure{30, 30 - 2*Normal975, 30 + 2*Normal975}.SD(), 1e-12)
	assert.Equal(t, Figure{50, 20, 70}, Figure{0.5, 0.2, 0.7}.Scaled(100))
	assert.False(t, Unmeasured().Known())
	assert.True(t, Exactly(0).Known())
}

// What a document embeds reads back, and an absent key is not measured.
func TestWrittenFormsReadBack(t *testing.T) {
	type document struct {
		WrittenIndex
		WrittenCoverage
		Shares WrittenShares `json:"shares"`
		Growth Written       `json:"growth"`
	}
	d := document{
		WriteIndex(Figure{34.567, 29, 41}), WriteCoverage(Unmeasured()),
		Shares{Bare: 2. / 3, Heavy: 1. / 3}.Write(), Figure{3, 1.23456, math.Inf(1)}.Write(4),
	}
	text, err := json.Marshal(d)
	require.NoError(t, err)
	assert.JSONEq(t, `{"index": 34.57, "index_low": 29, "index_high": 41,
		"coverage": null, "coverage_low": null, "coverage_high": null,
		"shares": {"bare": 0.666667, "film": 0, "medium": 0, "heavy": 0.333333},
		"growth": {"value": 3, "low": 1.2346, "high": null}}`, string(text))
	var back document
	require.NoError(t, json.Unmarshal(text, &back))
	assert.Equal(t, d, back)
	assert.Equal(t, Figure{34.57, 29, 41}, back.IndexFigure())
	assert.False(t, back.CoverageFigure().Known())
	assert.Equal(t, 0.666667, back.Shares.Shares().Bare)
	assert.Equal(t, 1.2346, back.Growth.Figure().Low)

	var absent document
	require.NoError(t, json.Unmarshal([]byte(`{}`), &absent))
	assert.False(t, absent.IndexFigure().Known())
}
