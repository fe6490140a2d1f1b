package unroll

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"valvegrade/pkg/deposit"
)

// drawsOf are two draws with these weights.
func drawsOf(weights ...float64) deposit.Draws {
	return deposit.Draws{
		Index: []float64{40, 60.5}, Dark: []float64{0, 100}, Coverage: []float64{12, 12}, Weight: weights,
	}
}

// Opinions of the net are powers of probabilities: for some of those 255*w/w is above 255 in float64.
func TestDrawsThatCountMostKeepTheirWeight(t *testing.T) {
	above := 0
	for p := 0.001; p < 1; p += 0.001 {
		w := math.Pow(p, 0.4)
		if 255*w/w > 255 {
			above++
		}
		m, err := (&Map{Draws: drawsOf(w, w/2)}).Pack().Map()
		require.NoError(t, err)
		require.Equal(t, drawsOf(255, 128), m.Draws, "weight %v", w)
	}
	assert.NotZero(t, above, "no weight tried the rounding")
}

func TestWeightsThatEarlierVersionsSpoiltAreRestored(t *testing.T) {
	for name, c := range map[string]struct{ written, want [2]uint8 }{
		"all counted most":        {[2]uint8{0, 0}, [2]uint8{255, 255}},
		"some counted most":       {[2]uint8{0, 71}, [2]uint8{255, 71}},
		"written as they were":    {[2]uint8{255, 71}, [2]uint8{255, 71}},
		"a draw that is not told": {[2]uint8{255, 0}, [2]uint8{255, 0}},
	} {
		packed := append(packDraws(drawsOf())[:6], c.written[:]...)
		assert.Equal(t, []float64{float64(c.want[0]), float64(c.want[1])}, unpackDraws(packed).Weight, name)
	}
}
