package number_test

import (
	"encoding/json"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"valvegrade/internal/number"
)

func TestKnownInJSON(t *testing.T) {
	for _, row := range []struct {
		value float64
		want  string
	}{
		{12.3456, "12.35"}, {-0.001, "0"}, {math.NaN(), "null"}, {math.Inf(-1), "null"}, {100, "100"},
	} {
		got, err := json.Marshal(number.Known(row.value, 2))
		require.NoError(t, err)
		assert.Equal(t, row.want, string(got))
	}
}

func TestMedian(t *testing.T) {
	values := []float64{4, 1, 9, 3}
	assert.Equal(t, 3.5, number.Median(values))
	assert.Equal(t, []float64{4, 1, 9, 3}, values, "the values stay as they are")
	assert.Equal(t, 4.0, number.Median([]float64{9, 1, 4}))
	assert.True(t, math.IsNaN(number.Median(nil)))
}

func TestShownAlike(t *testing.T) {
	for _, c := range []struct {
		v        float64
		decimals int
		text     string
	}{
		{28.15, 1, "28.2"},  // its nearest double is below the half: plain formatting gives 28.1
		{28.147, 1, "28.2"}, // saved as 28.15, so it must be shown as that is
		{28.144, 1, "28.1"}, {40, 1, "40.0"}, {-0.04, 1, "0.0"}, {-2.25, 1, "-2.3"}, {69.5, 0, "70"}, {math.NaN(), 1, "NaN"},
	} {
		assert.Equal(t, c.text, number.Text(c.v, c.decimals), c.v)
	}
}
