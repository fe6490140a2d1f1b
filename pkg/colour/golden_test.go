package colour

import (
	"encoding/json"
	"image"
	"image/color"
	"image/png"
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// golden is testdata/golden.json, made by scripts/reference/colour.py with scikit-image.
type golden struct {
	SRGB      [][3]uint8
	Lab       [][3]float64
	CIEDE2000 []float64
	Photos    map[string]struct {
		Below        float64 // pixels whose green is below this are dark, all others bright
		Dark, Bright [3]float64
		CIEDE2000    float64
	}
}

func readGolden(t *testing.T) golden {
	t.Helper()
	file, err := os.ReadFile("testdata/golden.json")
	require.NoError(t, err)
	var g golden
	require.NoError(t, json.Unmarshal(file, &g))
	return g
}

func TestRandomColoursAgreeWithScikitImage(t *testing.T) {
	golden := readGolden(t)
	require.Len(t, golden.Lab, len(golden.SRGB))
	require.Len(t, golden.CIEDE2000, len(golden.SRGB)/2)

	var ours []Lab
	for i, c := range golden.SRGB {
		got := LabOf(c[0], c[1], c[2])
		assertLab(t, Lab{golden.Lab[i][0], golden.Lab[i][1], golden.Lab[i][2]}, got, "random colour")
		ours = append(ours, got)
	}
	for i, want := range golden.CIEDE2000 {
		assert.InDelta(t, want, CIEDE2000(ours[2*i], ours[2*i+1]), 0.02, "pair %d: each colour may differ by 0.01", i)
	}
}

func TestDemoPhotosAgreeWithScikitImage(t *testing.T) {
	golden := readGolden(t)
	require.NotEmpty(t, golden.Photos)
	for name, want := range golden.Photos {
		dark, bright := halves(t, "testdata/"+name+".png", want.Below)
		assertLab(t, Lab{want.Dark[0], want.Dark[1], want.Dark[2]}, dark, name)
		assertLab(t, Lab{want.Bright[0], want.Bright[1], want.Bright[2]}, bright, name)
		assert.InDelta(t, want.CIEDE2000, CIEDE2000(dark, bright), 0.02, "%s: each colour may differ by 0.01", name)
	}
}

// halves returns the mean colours of a picture's pixels with green below and from a code on, by LabOfLight, the quick
// way that whole photos go.
func halves(t *testing.T, path string, below float64) (dark, bright Lab) {
	t.Helper()
	file, err := os.Open(path)
	require.NoError(t, err)
	defer file.Close()
	picture, err := png.Decode(file)
	require.NoError(t, err)
	var sums [2]Lab
	var counts [2]float64
	size := picture.Bounds().Size()
	for i := range size.X * size.Y {
		at := picture.Bounds().Min.Add(image.Pt(i%size.X, i/size.X))
		c := color.NRGBAModel.Convert(picture.At(at.X, at.Y)).(color.NRGBA)
		half := 0
		if float64(c.G) >= below {
			half = 1
		}
		lab := LabOfLight(Linear(c.R), Linear(c.G), Linear(c.B))
		sums[half] = Lab{sums[half].L + lab.L, sums[half].A + lab.A, sums[half].B + lab.B}
		counts[half]++
	}
	mean := func(half int) Lab {
		return Lab{sums[half].L / counts[half], sums[half].A / counts[half], sums[half].B / counts[half]}
	}
	return mean(0), mean(1)
}
