package texture

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

// The 4 x 4 picture of Haralick, Shanmugam & Dinstein 1973, figure 3.
var haralick = Levels{Width: 4, Height: 4, Count: 4, Pix: []uint8{
	0, 0, 1, 1,
	0, 0, 1, 1,
	0, 2, 2, 2,
	2, 2, 3, 3,
}}

// Matrices as printed in the paper, figure 3; features recomputed from them with scikit-image 0.19.3.
func TestTheExampleOf1973(t *testing.T) {
	for name, c := range map[string]struct {
		angle    Angle
		matrix   []int
		features CoOccurrence
	}{
		"0": {Degrees0, []int{4, 2, 1, 0, 2, 4, 0, 0, 1, 0, 6, 1, 0, 0, 1, 2},
			CoOccurrence{Contrast: 0.583333, EntropyBits: 3.022055, Correlation: 0.719533, Homogeneity: 0.808333}},
		"45": {Degrees45, []int{4, 1, 0, 0, 1, 2, 2, 0, 0, 2, 4, 1, 0, 0, 1, 0},
			CoOccurrence{Contrast: 0.444444, EntropyBits: 2.947703, Correlation: 0.735294, Homogeneity: 0.777778}},
		"90": {Degrees90, []int{6, 0, 2, 0, 0, 4, 2, 0, 2, 2, 2, 2, 0, 0, 2, 0},
			CoOccurrence{Contrast: 1, EntropyBits: 3.022055, Correlation: 0.485714, Homogeneity: 0.7}},
		"135": {Degrees135, []int{2, 1, 3, 0, 1, 2, 1, 0, 3, 1, 0, 2, 0, 0, 2, 0},
			CoOccurrence{Contrast: 1.777778, EntropyBits: 3.197160, Correlation: 0.162791, Homogeneity: 0.511111}},
	} {
		matrix := haralick.Matrix(c.angle)
		assert.Equal(t, c.matrix, matrix, "%s degrees", name)
		assertFeatures(t, c.features, Features(matrix, haralick.Count), 1e-6, name+" degrees: six printed decimals")
	}
}

func assertFeatures(t *testing.T, want, got CoOccurrence, delta float64, message string) {
	t.Helper()
	assert.InDelta(t, want.Contrast, got.Contrast, delta, "contrast, %s", message)
	assert.InDelta(t, want.EntropyBits, got.EntropyBits, delta, "entropy, %s", message)
	assert.InDelta(t, want.Correlation, got.Correlation, delta, "correlation, %s", message)
	assert.InDelta(t, want.Homogeneity, got.Homogeneity, delta, "homogeneity, %s", message)
}

func TestAPairCountsOnlyWhenBothPixelsDo(t *testing.T) {
	l := Levels{Width: 3, Height: 2, Count: 2, Pix: []uint8{
		0, 1, Outside,
		1, Outside, 0,
	}}
	assert.Equal(t, []int{0, 1, 1, 0}, l.Matrix(Degrees0), "only the first two pixels of the upper row")
	assert.Equal(t, []int{0, 1, 1, 0}, l.Matrix(Degrees90), "only the left column")
	assert.Equal(t, []int{0, 0, 0, 2}, l.Matrix(Degrees45), "the lower left and the upper middle pixel")
	assert.Equal(t, []int{0, 1, 1, 0}, l.Matrix(Degrees135), "the lower right and the upper middle pixel")
}

func TestFlatAndEmptyPictures(t *testing.T) {
	flat := MeanCoOccurrence(Levels{Width: 3, Height: 3, Count: 8, Pix: []uint8{5, 5, 5, 5, 5, 5, 5, 5, 5}})
	assert.Zero(t, flat.Contrast)
	assert.Zero(t, flat.EntropyBits)
	assert.Equal(t, 1.0, flat.Homogeneity)
	assert.True(t, math.IsNaN(flat.Correlation), "nothing varies, so nothing correlates")

	empty := MeanCoOccurrence(Levels{Width: 2, Height: 1, Count: 8, Pix: []uint8{Outside, 3}})
	for _, feature := range []float64{empty.Contrast, empty.EntropyBits, empty.Correlation, empty.Homogeneity} {
		assert.True(t, math.IsNaN(feature))
	}
}
