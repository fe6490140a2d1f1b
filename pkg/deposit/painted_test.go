package deposit

import (
	"bytes"
	"image"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"valvegrade/pkg/reason"
)

// A valve that the net is sure to be caked, painted bare all over.
func TestWhatIsPaintedDecides(t *testing.T) {
	s := plain()
	s.sure, s.class = 6, func(x, y int) uint8 { return Heavy }
	p, r := s.photo(), s.region()
	r.Evidence.Frame.Grades = [5]float64{0, 0, 0, 0, 1}
	seen, err := Measure(p, r, Options{})
	require.NoError(t, err)
	assert.Greater(t, seen.Grades.Due(), 0.9)
	assert.Equal(t, Thick, seen.BuildUp)

	r.Painted = image.NewGray(r.Mask.Rect) // 0 is bare
	painted, err := Measure(p, r, Options{})
	require.NoError(t, err)
	assert.Equal(t, 1.0, painted.Painted)
	assert.Zero(t, painted.Both.Index.Value)
	assert.InDelta(t, 5, painted.Both.Index.High, 1e-9)
	assert.InDelta(t, 5, painted.Both.Dark.High, 1e-9)
	assert.Less(t, painted.Grades.Due(), 0.01)
	assert.Equal(t, Unknown, painted.BuildUp, "there is no dark deposit")
}

// What somebody painted aside is no glare, and to turn the light away would not help.
func TestWhatIsPaintedAsideIsNoGlare(t *testing.T) {
	p, r := plain().photo(), plain().region()
	r.Painted = image.NewGray(r.Mask.Rect)
	copy(r.Painted.Pix, bytes.Repeat([]byte{Unreadable}, len(r.Painted.Pix)))
	d, err := Measure(p, r, Options{})
	require.NoError(t, err)
	assert.Equal(t, []reason.Code{reason.MostlyAside}, codes(d.Reasons))
	assert.Contains(t, d.Reasons[0].Advice, "100 % of what was taken for the valve is unreadable, most of it painted aside")
}
