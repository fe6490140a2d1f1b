package trend

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"valvegrade/pkg/measure"
)

// The band of a line through two readings begins and ends with their own intervals, which may be longer to one side.
func TestBandThroughTwoReadings(t *testing.T) {
	first, last := measure.Figure{Value: 2, Low: 0, High: 30}, measure.Figure{Value: 50, Low: 38, High: 90}
	l := fit([]Reading{{Odometer: 10_000, Index: first}, {Odometer: 30_000, Index: last}}, true)
	for odometer, want := range map[float64]measure.Figure{
		10_000: first, 30_000: last, 20_000: {Value: 26, Low: 26 - math.Hypot(1, 6), High: 26 + math.Hypot(14, 20)},
	} {
		band := l.band(odometer)
		assert.InDelta(t, want.Value, band.Value, 1e-9, "float64 rounding, as below")
		assert.InDelta(t, want.Low, band.Low, 1e-9)
		assert.InDelta(t, want.High, band.High, 1e-9)
	}
}
