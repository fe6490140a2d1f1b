package grade

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"valvegrade/pkg/measure"
)

func sum(p Probabilities) float64 { return p.AtLeast(0) }

// Areas below the normal curve as any table prints them: 0.0668 beyond 1.5 standard deviations, 0.1587 beyond 1.
func TestAnIntervalAloneStandsForANormalError(t *testing.T) {
	z := measure.Normal975
	p := OfInterval(measure.Figure{Value: 30, Low: 30 - 10*z, High: 30 + 10*z})
	assert.InDelta(t, 0.0668, p[0]+p[1], 5e-5, "below 15")
	assert.InDelta(t, 0.1587, p.Due(), 5e-5, "40 and up")
	assert.InDelta(t, 1, sum(p), 1e-12)

	lopsided := OfInterval(measure.Figure{Value: 30, Low: 30 - z, High: 30 + 10*z})
	assert.InDelta(t, 0, lopsided[0]+lopsided[1], 1e-12, "each side has its own spread")
	assert.InDelta(t, 0.1587, lopsided.Due(), 5e-5)

	assert.Equal(t, Probabilities{0, 0, 1, 0, 0}, OfInterval(measure.Exactly(30)))
	assert.False(t, OfInterval(measure.Unmeasured()).Known())
}

func TestTheWorstIsAtLeastAsBadAsEach(t *testing.T) {
	clean, dirty := Probabilities{0.9, 0.1, 0, 0, 0}, Probabilities{0, 0.2, 0.5, 0.3, 0}
	assert.InDeltaSlice(
		t,
		dirty[:],
		asSlice(Worst(clean, dirty, Probabilities{})),
		1e-12,
		"what is not known is left out",
	)
	crossing := Worst(Probabilities{0.5, 0, 0.5, 0, 0}, Probabilities{0, 1, 0, 0, 0})
	assert.InDeltaSlice(t, []float64{0, 0.5, 0.5, 0, 0}, asSlice(crossing), 1e-12)
	assert.False(t, Worst().Known())
}

func asSlice(p Probabilities) []float64 { return p[:] }

// Two photos with normal errors of 10 points about 26 and 34, pooled to 8 points: about 30.
func TestPoolingNormalErrorsIsExact(t *testing.T) {
	of := func(value, sd float64) Probabilities {
		z := measure.Normal975 * sd
		return OfInterval(measure.Figure{Value: value, Low: value - z, High: value + z})
	}
	pooled := Pool([]Probabilities{of(26, 10), of(34, 10)}, []float64{0.5, 0.5}, 0.8)
	want := of(30, 8)
	for value := range want {
		assert.InDelta(t, want[value], pooled[value], 2e-3, "grade %d", value)
	}
	assert.False(t, Pool([]Probabilities{of(26, 10), {}}, []float64{0.5, 0.5}, 1).Known())
}

// By hand: the square roots of 0.64 and 0.36 are 0.8 and 0.6, of a sum of 1.4.
func TestTemperedProbabilitiesAreLessSure(t *testing.T) {
	tempered := Probabilities{0, 0, 0.64, 0.36, 0}.Tempered(2)
	assert.InDeltaSlice(t, []float64{0, 0, 4. / 7, 3. / 7, 0}, asSlice(tempered), 1e-12)
	p := Probabilities{0.1, 0.2, 0.3, 0.25, 0.15}
	assert.InDeltaSlice(t, asSlice(p), asSlice(p.Tempered(1)), 1e-12)
	assert.False(t, Probabilities{}.Tempered(1.5).Known())
}

func TestProbabilitiesOfNothing(t *testing.T) {
	var p Probabilities
	assert.True(t, math.IsNaN(p.Due()))
	decision, certainty := p.Decide()
	assert.Equal(t, Decision(""), decision)
	assert.True(t, math.IsNaN(certainty))
	assert.Equal(t, "", p.Sentence())
	assert.Equal(t, 0, p.Surely())
}

func TestWrittenProbabilitiesReadBack(t *testing.T) {
	p := Probabilities{0.01, 0.04, 0.25, 0.5, 0.2}
	w := Of(measure.Exactly(50), p).Write()
	assert.Equal(t, p, w.Odds())
	assert.InDelta(t, 0.7, w.Due.Value(), 1e-9)
	assert.False(t, Written{}.Odds().Known(), "results of versions that had none")
}

// The score's own bounds, and one between: (0.3-1)^2 + 0.5^2 + 0.2^2.
func TestBrierScore(t *testing.T) {
	assert.Equal(t, 0.0, Probabilities{0, 1, 0, 0, 0}.Brier(1))
	assert.Equal(t, 2.0, Probabilities{0, 1, 0, 0, 0}.Brier(4))
	assert.InDelta(t, 0.78, Probabilities{0.3, 0.5, 0.2, 0, 0}.Brier(0), 1e-12)
}
