package agree_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"valvegrade/pkg/agree"
	"valvegrade/pkg/measure"
)

// shroutFleiss1979 is the example of Shrout & Fleiss (1979): 6 targets, 4 judges.
var shroutFleiss1979 = [][]float64{{9, 2, 5, 8}, {6, 1, 3, 2}, {8, 4, 6, 8}, {7, 1, 2, 6}, {10, 5, 6, 9}, {6, 2, 4, 7}}

func TestIntraclassCorrelationOfShroutFleiss1979(t *testing.T) {
	c, err := agree.IntraclassCorrelation(shroutFleiss1979)
	require.NoError(t, err)
	assert.InDelta(t, 11.241667, c.Between, printed)
	assert.InDelta(t, 6.263889, c.Within, printed)
	assert.InDelta(t, 32.486111, c.Judges, printed)
	assert.InDelta(t, 1.019444, c.Residual, printed)

	// Values by R psych; the paper prints .17 .29 .71 .44 .62 .91. R prints the intervals to 2 or 3 digits.
	for _, row := range []struct {
		name             string
		got              measure.Figure
		value, low, high float64
	}{
		{"(1,1)", c.OneWaySingle, 0.165742, -0.133, 0.72},
		{"(2,1)", c.RandomSingle, 0.289764, 0.019, 0.76},
		{"(3,1)", c.FixedSingle, 0.714841, 0.342, 0.95},
		{"(1,k)", c.OneWayAverage, 0.442797, -0.884, 0.91},
		{"(2,k)", c.RandomAverage, 0.620051, 0.071, 0.93},
		{"(3,k)", c.FixedAverage, 0.909316, 0.676, 0.99},
	} {
		assert.InDelta(t, row.value, row.got.Value, printed, row.name)
		assert.InDelta(t, row.low, row.got.Low, 5e-4, row.name)
		assert.InDelta(t, row.high, row.got.High, 5e-3, row.name)
	}
	assert.InDelta(t, 1.009675, c.SEMConsistency(), printed)
	assert.InDelta(t, 2.502776, c.SEMAgreement(), printed)
	assert.InDelta(t, 2.798677, agree.SmallestDetectable(c.SEMConsistency()), printed)
}

func TestIntraclassCorrelationRefusesIncompleteTables(t *testing.T) {
	_, err := agree.IntraclassCorrelation([][]float64{{1, 2}, {1}})
	assert.ErrorContains(t, err, "item 2 has 1 ratings")
	_, err = agree.IntraclassCorrelation([][]float64{{1, 2}})
	assert.ErrorContains(t, err, "at least 2 items")
}

// Three raters who say the same of everything, and items that do not differ: no interval of no width is promised.
func TestIntraclassCorrelationWithoutNoiseOrDifferences(t *testing.T) {
	same, err := agree.IntraclassCorrelation([][]float64{{0.1, 0.1, 0.1}, {0.2, 0.2, 0.2}, {0.7, 0.7, 0.7}})
	require.NoError(t, err)
	for name, f := range map[string]measure.Figure{
		"(1,1)": same.OneWaySingle, "(3,1)": same.FixedSingle, "(1,k)": same.OneWayAverage, "(3,k)": same.FixedAverage,
	} {
		assert.Equal(t, 1.0, f.Value, name)
		assert.True(t, math.IsNaN(f.Low) && math.IsNaN(f.High), name)
	}
	alike, err := agree.IntraclassCorrelation([][]float64{{1, 2, 3}, {1, 2, 3}})
	require.NoError(t, err)
	assert.Equal(t, -0.5, alike.OneWaySingle.Value)
	assert.True(t, math.IsNaN(alike.OneWaySingle.Low))
	assert.False(t, alike.OneWayAverage.Known())
	nothing, err := agree.IntraclassCorrelation([][]float64{{4, 4}, {4, 4}})
	require.NoError(t, err)
	assert.False(t, nothing.FixedSingle.Known() || nothing.FixedAverage.Known())
}

// Raters who contradict each other have no mean to speak of, where the formulas would say 7.4 of 1.
func TestIntraclassCorrelationOfContradictions(t *testing.T) {
	for name, values := range map[string][][]float64{
		"a square": {{1, 2, 3}, {2, 3, 1}, {3, 1, 2}}, "opposites": {{1, 2}, {2, 1}},
		"four photos": {{10, 20, 30}, {25, 10, 26}, {30, 31, 5}, {12, 40, 22}},
	} {
		c, err := agree.IntraclassCorrelation(values)
		require.NoError(t, err, name)
		assert.False(t, math.IsInf(c.RandomSingle.Value, 0), name)
		assert.True(t, math.IsNaN(c.RandomAverage.Value) && math.IsNaN(c.RandomAverage.Low), name)
		assert.False(t, c.RandomAverage.High > 1, name)
	}
}
