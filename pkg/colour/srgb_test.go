package colour

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

// Values of IEC 61966-2-1, computed with NumPy in double precision; the two branches meet between 10 and 11.
func TestLinearFollowsTheStandard(t *testing.T) {
	for code, want := range map[uint8]float64{
		0: 0, 1: .00030353, 10: .00303527, 11: .00334654, 64: .05126946, 118: .18116424, 119: .18447499, 128: .21586050,
		188: .50288646, 255: 1,
	} {
		assert.InDelta(t, want, Linear(code), 1e-8, "code %d: eight printed digits", code)
	}
}

func TestHalfTheLightIsNotHalfTheCode(t *testing.T) {
	for code, want := range map[uint8]float64{200: 146.313, 100: 71.397, 40: 26.448} {
		assert.InDelta(t, want, 255*Encode(Linear(code)/2), 5e-4, "code %d: three printed decimals", code)
	}
}

func TestEncodeIsTheInverseOfDecode(t *testing.T) {
	for code := 0; code < 256; code++ {
		value := float64(code) / 255
		// The standard rounds the slopes of its two branches, which leaves up to 3e-8 between them.
		assert.InDelta(t, value, Encode(Decode(value)), 1e-7)
	}
	assert.InDelta(t, 1, Encode(3), 1e-12, "light above white is clipped")
	assert.Equal(t, 0.0, Encode(-1))
	assert.True(t, math.IsNaN(Encode(math.NaN())))
}
