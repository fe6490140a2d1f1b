package deposit

import (
	"image"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
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
