package colour

import (
	"encoding/json"
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// testdata/golden.json is made by scripts/reference/colour.py with scikit-image.
func TestRandomColoursAgreeWithScikitImage(t *testing.T) {
	file, err := os.ReadFile("testdata/golden.json")
	require.NoError(t, err)
	var golden struct {
		SRGB      [][3]int
		Lab       [][3]float64
		CIEDE2000 []float64
	}
	require.NoError(t, json.Unmarshal(file, &golden))
	require.Len(t, golden.Lab, len(golden.SRGB))
	require.Len(t, golden.CIEDE2000, len(golden.SRGB)/2)

	var ours []Lab
	for i, c := range golden.SRGB {
		got := LabOf(uint8(c[0]), uint8(c[1]), uint8(c[2]))
		assertLab(t, Lab{golden.Lab[i][0], golden.Lab[i][1], golden.Lab[i][2]}, got, "random colour")
		ours = append(ours, got)
	}
	for i, want := range golden.CIEDE2000 {
		assert.InDelta(t, want, CIEDE2000(ours[2*i], ours[2*i+1]), 0.02, "pair %d: each colour may differ by 0.01", i)
	}
}
