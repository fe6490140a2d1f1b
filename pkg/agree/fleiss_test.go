package agree_test

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"valvegrade/pkg/agree"
)

// fleiss1971 is the table of Fleiss (1971): 30 patients, 6 psychiatrists, 5 diagnoses; one digit a diagnosis.
const fleiss1971 = `00060 03003 01401 00006 03030 20400 00402 20310 20040 00006 10050 11040 03300 10050 02031
00501 30012 51000 02040 10203 00006 01050 02013 20040 10041 05010 40002 02040 10500 00006`

func TestKappaOfFleiss1971(t *testing.T) {
	var counts [][]int
	for _, word := range strings.Fields(fleiss1971) {
		row := make([]int, len(word))
		for j, digit := range word {
			row[j] = int(digit - '0')
		}
		counts = append(counts, row)
	}
	f, err := agree.FleissKappa(counts)
	require.NoError(t, err)
	assert.InDelta(t, 0.430, f.Value, 5e-4, "Fleiss 1971 prints three digits")
	assert.InDelta(t, 0.430245, f.Value, printed, "statsmodels")
	assert.InDelta(t, 0.555556, f.Observed, printed)
	assert.InDelta(t, 0.219938, f.Expected, printed)
	assert.InDeltaSlice(t, []float64{0.144444, 0.144444, 0.166667, 0.305556, 0.238889}, f.Shares, printed)
	assert.InDeltaSlice(t, []float64{0.244755, 0.244755, 0.520000, 0.471127, 0.566118}, f.ByClass, printed)
	assert.InDelta(t, 0.024374, f.NullSE, printed)
	assert.InDelta(t, 17.6518, f.Z, 5e-5)
}

func TestFleissKappaOfTextbookExample(t *testing.T) {
	// 10 subjects, 14 raters, 5 classes: the textbook example; expected value by statsmodels.
	f, err := agree.FleissKappa([][]int{
		{0, 0, 0, 0, 14}, {0, 2, 6, 4, 2}, {0, 0, 3, 5, 6}, {0, 3, 9, 2, 0}, {2, 2, 8, 1, 1},
		{7, 7, 0, 0, 0}, {3, 2, 6, 3, 0}, {2, 5, 3, 2, 2}, {6, 5, 2, 1, 0}, {0, 2, 2, 3, 7},
	})
	require.NoError(t, err)
	assert.InDelta(t, 0.209931, f.Value, printed)
}

func TestFleissKappaAtItsEnds(t *testing.T) {
	one, err := agree.FleissKappa([][]int{{3, 0}, {3, 0}})
	require.NoError(t, err)
	assert.True(t, math.IsNaN(one.Value), "all ratings in one class say nothing about agreement")
	assert.True(t, math.IsNaN(one.ByClass[0]) && math.IsNaN(one.ByClass[1]))

	full, err := agree.FleissKappa([][]int{{3, 0}, {0, 3}})
	require.NoError(t, err)
	assert.InDelta(t, 1, full.Value, 1e-12)
}

func TestFleissKappaRefusesUnequalRaters(t *testing.T) {
	_, err := agree.FleissKappa([][]int{{3, 0}, {1, 1}})
	assert.ErrorContains(t, err, "item 2 has 2 ratings")
	_, err = agree.FleissKappa([][]int{{1, 0}})
	assert.ErrorContains(t, err, "at least 2 are needed")
	_, err = agree.FleissKappa(nil)
	assert.Error(t, err)
}
