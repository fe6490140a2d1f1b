package number_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"valvegrade/internal/number"
)

func TestMedian(t *testing.T) {
	values := []float64{4, 1, 9, 3}
	assert.Equal(t, 3.5, number.Median(values))
	assert.Equal(t, []float64{4, 1, 9, 3}, values, "the values stay as they are")
	assert.Equal(t, 4.0, number.Median([]float64{9, 1, 4}))
	assert.True(t, math.IsNaN(number.Median(nil)))
}

func TestThousandsStandApart(t *testing.T) {
	for want, v := range map[string]float64{"0": 0, "999": 999, "1 000": 999.5, "45 210": 45210, "1 234 567": 1234567} {
		assert.Equal(t, want, number.Thousands(v))
	}
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

// Type 7 of Hyndman & Fan 1996, as in R's quantile(1:5, c(.1, .5, 1)).
func TestQuantile(t *testing.T) {
	values := []float64{1, 2, 3, 4, 5}
	assert.InDelta(t, 1.4, number.Quantile(values, 0.1), 1e-12)
	assert.Equal(t, 3.0, number.Quantile(values, 0.5))
	assert.Equal(t, 5.0, number.Quantile(values, 1))
}
