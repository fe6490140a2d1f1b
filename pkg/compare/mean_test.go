package compare

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"valvegrade/pkg/measure"
)

// Errors of four valves that correlate by 0.1: the variance of their mean is (1 + 3*0.1)/4 of that of one, where all are
// as sure.
func TestMeanIsSurerThanItsPartsButForWhatTheyShare(t *testing.T) {
	narrower := math.Sqrt(1.3 / 4)
	four := func(d doubt) doubt { return meanOf([]doubt{d, d, d, d}) }
	assert.InDelta(t, 5*measure.Normal975*narrower, change(50, 50, four(off(4, 3, 0))).Detectable, 1e-9)
	assert.InDelta(t, change(50, 50, off(4, 3, 0.6)).Detectable*narrower, change(50, 50, four(off(4, 3, 0.6))).Detectable, 1e-9)
	removed := change(60, 20, four(off(4, 2, 0.6))).Removed()
	same := change(60, 20, off(4*narrower, 2*narrower, 0.6)).Removed()
	assert.InDelta(t, same.Low, removed.Low, 1e-9, "float64 rounding")
	assert.InDelta(t, same.High, removed.High, 1e-9, "float64 rounding")
	assert.Equal(t, measure.Figure{Value: 0, Low: 0, High: 3}, mean([]measure.Figure{{Value: 0, Low: 0, High: 3}}))
}

func TestMeanOfOneSureAndOneUnsureValve(t *testing.T) {
	m := mean([]measure.Figure{around(50, 2), around(50, 20)})
	assert.InDelta(t, math.Sqrt(0.9*(4+400)/4+0.1*11*11), m.High-50, 1e-9, "by hand; float64 rounding")
	assert.InDelta(t, m.High-50, 50-m.Low, 1e-9, "float64 rounding")
}

func TestWhatEachValveGainedALittleAddsUp(t *testing.T) {
	grew := change(20, 25.3, repeated(2))
	assert.Equal(t, NotDistinguishable, grew.Verdict(), "5.3 points of one valve")
	valve := Valve{Number: 1, Comparison: &Comparison{Compared: true, Changes: Changes{grew, grew, grew}, Verdict: NotDistinguishable}}
	four := meanChanges([]Valve{valve, valve, valve, valve})
	assert.Equal(t, Changed, four.Verdict(), "5.3 points of each of four")
	assert.InDelta(t, 5.3, four.Dark.Difference.Value, 1e-9)
}
