package draw

import (
	"image/color"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"valvegrade/pkg/compare"
	"valvegrade/pkg/region"
	"valvegrade/pkg/unroll"
)

// A head that leans away is an ellipse in the photo and a disc along its stem: what lies half way to the rim at 3 is
// half way at 3.
func TestHeadOnUndoesThePose(t *testing.T) {
	r := valve(640, 480)
	rim := region.Ellipse{X: 300, Y: 260, A: 150, B: 100}
	stem := region.Line{X1: 300, Y1: 20, X2: 300, Y2: 260, Width: 40}
	spot := region.NewUnwrap(rim, &stem).Photo(90, 0.5)
	red := color.NRGBA{200, 0, 0, 255}
	for dy := -6; dy <= 6; dy++ {
		for dx := -6; dx <= 6; dx++ {
			r.Photo.Pixels.SetNRGBA(int(spot.X)+dx, int(spot.Y)+dy, red)
		}
	}
	head := HeadOn(r.Photo.Pixels, &unroll.Packed{
		Rim: &[5]float64{rim.X, rim.Y, rim.A, rim.B, rim.Angle}, Stem: &[5]float64{stem.X1, stem.Y1, stem.X2, stem.Y2, stem.Width},
	})
	require.NotNil(t, head)
	assert.Equal(t, red, head.NRGBAAt(headOnSide*3/4, headOnSide/2))
	assert.Equal(t, uint8(metal), head.NRGBAAt(headOnSide/4, headOnSide/2).R)
	assert.Zero(t, head.NRGBAAt(0, 0).A, "nothing lies beyond the rim")

	same := Onto(head, &compare.Registration{})
	assert.Equal(t, red, same.NRGBAAt(headOnSide*3/4, headOnSide/2))
	assert.Nil(t, HeadOn(r.Photo.Pixels, &unroll.Packed{}), "without an outline no view is known")
}
