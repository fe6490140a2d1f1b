package trend_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"valvegrade/pkg/agree"
	"valvegrade/pkg/measure"
	"valvegrade/pkg/trend"
)

// The slope over a distance of 1 is a difference. Newcombe, Statistics in Medicine 17 (1998) 873, table II, method 10:
// 56/70 - 48/80 is 0.2000 (0.0524 to 0.3339), and 9/10 - 3/10 is 0.6000 (0.1705 to 0.8090), from the score intervals of
// the proportions.
func TestSlopeOfLopsidedReadingsIsThePublishedDifference(t *testing.T) {
	for _, c := range []struct {
		after, before agree.Proportion
		want          measure.Figure
	}{
		{agree.Wilson(56, 70), agree.Wilson(48, 80), measure.Figure{Value: 0.2, Low: 0.0524, High: 0.3339}},
		{agree.Wilson(9, 10), agree.Wilson(3, 10), measure.Figure{Value: 0.6, Low: 0.1705, High: 0.8090}},
	} {
		f, err := trend.KnownErrors([]trend.Point{{X: 7, Y: c.before.Figure}, {X: 8, Y: c.after.Figure}})
		require.NoError(t, err)
		same(t, c.want, f.Slope, 5e-5, "four printed digits")
	}
}

// A line through two readings begins and ends with their own intervals; beyond them both count.
func TestBandThroughTwoReadings(t *testing.T) {
	first, last := measure.Figure{Value: 2, Low: 0, High: 30}, measure.Figure{Value: 50, Low: 38, High: 90}
	f, err := trend.KnownErrors([]trend.Point{{X: 10, Y: first}, {X: 30, Y: last}})
	require.NoError(t, err)
	for x, want := range map[float64]measure.Figure{
		10: first, 30: last,
		20: {Value: 26, Low: 26 - math.Hypot(1, 6), High: 26 + math.Hypot(14, 20)},
		50: {Value: 98, Low: 98 - math.Hypot(2*12, 28), High: 98 + math.Hypot(2*40, 2)},
	} {
		same(t, want, f.At(x), 1e-9, "float64 rounding")
	}
}

// A reading that may be far higher than it says claims no growth up from it, but leaves a fall as sure as it is.
func TestLopsidedReadingsClaimNoMoreThanTheyKnow(t *testing.T) {
	low, later := measure.Figure{Value: 18, Low: 16, High: 54}, measure.Figure{Value: 46, Low: 42, High: 50}
	f, err := trend.KnownErrors([]trend.Point{{X: 0, Y: low}, {X: 1, Y: later}})
	require.NoError(t, err)
	same(t, measure.Figure{Value: 28, Low: 28 - math.Hypot(36, 4), High: 28 + math.Hypot(2, 4)}, f.Slope, 1e-9,
		"as if even to both sides, 28 would exceed the half width of 19.4; float64 rounding")
}

// Points apart in time, each with its own long side: the edges rise everywhere once the slope is above 0 beyond doubt,
// and the range in which the line comes to a height is where they do.
func TestReachOfALopsidedLine(t *testing.T) {
	f, err := trend.ScaledErrors([]trend.Point{
		{X: 0, Y: measure.Figure{Value: 5, Low: 4, High: 15}},
		{X: 1, Y: measure.Figure{Value: 20, Low: 12, High: 22}},
		{X: 2, Y: measure.Figure{Value: 33, Low: 31, High: 45}},
	})
	require.NoError(t, err)
	require.Positive(t, f.Slope.Low)
	previous := f.At(-20)
	for x := -19.9; x < 20; x += 0.1 {
		now := f.At(x)
		assert.Greater(t, now.Low, previous.Low, "at %.1f", x)
		assert.Greater(t, now.High, previous.High, "at %.1f", x)
		previous = now
	}
	for _, y := range []float64{-40, 10, 70} {
		x, ok := f.Reach(y)
		require.True(t, ok)
		assert.InDelta(t, y, f.At(x.Low).High, 1e-9, "bisected to the end, as below")
		assert.InDelta(t, y, f.At(x.Value).Value, 1e-9)
		assert.InDelta(t, y, f.At(x.High).Low, 1e-9)
	}
}

func same(t *testing.T, want, got measure.Figure, tolerance float64, why string) {
	t.Helper()
	assert.InDelta(t, want.Value, got.Value, tolerance, why)
	assert.InDelta(t, want.Low, got.Low, tolerance, why)
	assert.InDelta(t, want.High, got.High, tolerance, why)
}
