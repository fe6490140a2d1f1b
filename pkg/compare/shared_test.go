package compare

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"valvegrade/pkg/deposit"
	"valvegrade/pkg/measure"
)

// drawnView is a view whose draws of the index are these.
func drawnView(t *testing.T, version string, index ...float64) *View {
	t.Helper()
	zeros, weight := make([]float64, len(index)), make([]float64, len(index))
	for i := range weight {
		weight[i] = 1
	}
	return &View{
		Version: version,
		Map:     drawnMap(t, deposit.Draws{Index: index, Dark: zeros, Coverage: zeros, Weight: weight}),
	}
}

func TestAlikeStatesShareWhatTheirDrawsShare(t *testing.T) {
	one, other := drawnView(t, "1", 40, 45, 50, 55), drawnView(t, "1", 20, 21, 22, 23)
	for apart, want := range map[float64]float64{0: 1, 10: 0.75, 20: 0.5, 40: 0, 90: 0} {
		assert.InDelta(t, want, indexReading.shared(one, other, apart), 1e-9, "%v points apart", apart)
	}
	half := drawnView(t, "1", 21, 20, 23, 22) // correlates by 3/5 with 1, 2, 3, 4
	assert.InDelta(t, 0.6, indexReading.shared(one, half, 0), 1e-9)
}

func TestNothingIsShared(t *testing.T) {
	one := drawnView(t, "1", 40, 45, 50, 55)
	for name, other := range map[string]*View{
		"draws of another version":  drawnView(t, "2", 40, 45, 50, 55),
		"draws that never err":      drawnView(t, "1", 0, 0, 0, 0),
		"errors that go other ways": drawnView(t, "1", 55, 50, 45, 40),
	} {
		assert.Zero(t, indexReading.shared(one, other, 0), name)
	}
}

func TestApartIsTheLargerOfBothDifferences(t *testing.T) {
	before := measure.Reading{Index: around(50, 5), Dark: around(90, 5), Coverage: around(95, 5)}
	after := measure.Reading{Index: around(45, 5), Dark: around(70, 5), Coverage: around(20, 5)}
	assert.InDelta(t, 20, apart(before, after), 1e-12)
	assert.InDelta(t, 20, apart(after, before), 1e-12)
}
