package measure

import (
	"encoding/json"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestNumberIsNullWhenNotMeasured(t *testing.T) {
	for _, n := range []Number{{}, Rounded(math.NaN(), 2), Rounded(math.Inf(1), 2)} {
		assert.False(t, n.Known())
		assert.True(t, math.IsNaN(n.Value()))
		text, err := json.Marshal(n)
		require.NoError(t, err)
		assert.Equal(t, "null", string(text))
	}
}

func TestNumberPrintsShortPlainDecimals(t *testing.T) {
	for _, c := range []struct {
		value    float64
		decimals int
		want     string
	}{
		{0, 2, "0"},
		{-0.0001, 2, "0"}, // no minus before zero
		{34.567, 2, "34.57"},
		{100, 2, "100"},
		{1. / 3, 6, "0.333333"},
		{1e21, 0, "1000000000000000000000"}, // no exponent
	} {
		text, err := json.Marshal(Rounded(c.value, c.decimals))
		require.NoError(t, err)
		assert.Equal(t, c.want, string(text))
	}
}

func TestNumberReadsBackAndAbsentKeyIsNotMeasured(t *testing.T) {
	var got struct{ A, B, C Number }
	require.NoError(t, json.Unmarshal([]byte(`{"a": 2.5, "b": null}`), &got))
	assert.Equal(t, 2.5, got.A.Value())
	assert.False(t, got.B.Known())
	assert.False(t, got.C.Known(), "an absent key must not read as 0")
	assert.Error(t, json.Unmarshal([]byte(`{"a": "2.5"}`), &got))
}
