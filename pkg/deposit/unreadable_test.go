package deposit

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// spot puts a square of the given side and light on the head of a plain valve and returns what is set aside.
func spot(side int, light func(x, y int) float64) (glare, shadow int) {
	s := plain()
	s.light = func(x, y int) [3]float64 {
		if x >= 300 && x < 300+side && y >= 320 && y < 320+side {
			l := light(x, y)
			return [3]float64{l, l, l}
		}
		return [3]float64{0.3, 0.3, 0.3}
	}
	p, r := s.photo(), s.region()
	return setAside(p, classify(r.Mask, r.Bounds(), r.Evidence), r.Bounds())
}

func TestGlareIsSetAsideWithANarrowRim(t *testing.T) {
	glare, shadow := spot(20, func(x, y int) float64 { return 1 })
	assert.Equal(t, 22*22, glare, "one pixel around at 640 pixels")
	assert.Zero(t, shadow)
}

func TestBrightMetalIsReadable(t *testing.T) {
	glare, _ := spot(20, func(x, y int) float64 { return 0.95 }) // code 249
	assert.Zero(t, glare, "near-white is not clipped")
	glare, _ = spot(4, func(x, y int) float64 { return 1 })
	assert.Zero(t, glare, "a grain's glint is no patch")
}

func TestBlackShadowIsSetAside(t *testing.T) {
	glare, shadow := spot(20, func(x, y int) float64 { return 0.0005 })
	assert.Zero(t, glare)
	assert.Equal(t, 16*16, shadow, "the two pixels along the edge see light")
}

func TestDarkCrustWithDetailIsReadable(t *testing.T) {
	_, shadow := spot(40, func(x, y int) float64 { return 0.0024 * speckle(x, y, 2) }) // codes 0 to 8
	assert.Less(t, shadow, 40, "a caked valve in dim light still shows grain")
	_, shadow = spot(40, func(x, y int) float64 { return 0.005 }) // code 14
	assert.Zero(t, shadow, "even, but above the floor")
}
