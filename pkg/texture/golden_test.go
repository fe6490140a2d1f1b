package texture

import (
	"encoding/json"
	"image"
	"image/png"
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// golden is testdata/golden.json, made by scripts/reference/texture.py with scikit-image and SciPy.
type golden map[string]struct {
	CoOccurrence map[string]struct {
		Contrast, Homogeneity, Correlation float64
		EntropyBits                        float64 `json:"entropy_bits"`
	} `json:"co_occurrence"`
	Patterns struct{ Default, Rotated, Uniform []int }
	Relief   float64
}

func TestPicturesAgreeWithScikitImage(t *testing.T) {
	file, err := os.ReadFile("testdata/golden.json")
	require.NoError(t, err)
	var pictures golden
	require.NoError(t, json.Unmarshal(file, &pictures))
	require.NotEmpty(t, pictures)

	for name, want := range pictures {
		picture := open(t, "testdata/"+name+".png")

		l := discLevels(picture)
		for degrees, angle := range map[string]Angle{"0": Degrees0, "45": Degrees45, "90": Degrees90, "135": Degrees135} {
			w := want.CoOccurrence[degrees]
			expected := CoOccurrence{w.Contrast, w.EntropyBits, w.Correlation, w.Homogeneity}
			assertFeatures(
				t,
				expected,
				Features(l.Matrix(angle), l.Count),
				1e-9,
				name+", "+degrees+" degrees: same counts",
			)
		}
		assert.Equal(t, want.Patterns.Default, codes(picture, func(bits uint32) int { return int(bits) }), name)
		assert.Equal(
			t,
			want.Patterns.Rotated,
			codes(picture, func(bits uint32) int { return int(Rotated(bits, 8)) }),
			name,
		)
		assert.Equal(t, want.Patterns.Uniform, codes(picture, func(bits uint32) int { return Uniform(bits, 8) }), name)

		masked := discOf(picture)
		assert.InEpsilon(t, want.Relief, DetailOf(masked).Energy(masked), 1e-4, "%s: float32 against float64", name)
	}
}

func open(t *testing.T, path string) *image.Gray {
	t.Helper()
	file, err := os.Open(path)
	require.NoError(t, err)
	defer file.Close()
	decoded, err := png.Decode(file)
	require.NoError(t, err)
	require.IsType(t, &image.Gray{}, decoded)
	return decoded.(*image.Gray)
}

// discOf keeps the largest centred disc, the mask of the script.
func discOf(picture *image.Gray) Picture {
	w, h := picture.Rect.Dx(), picture.Rect.Dy()
	p := Picture{Width: w, Height: h, Value: make([]float32, w*h), Inside: make([]bool, w*h)}
	side := float64(min(w, h))
	for i, v := range picture.Pix {
		dx, dy := float64(i%w)-float64(w-1)/2, float64(i/w)-float64(h-1)/2
		p.Value[i], p.Inside[i] = float32(v), dx*dx+dy*dy <= side*side/4
	}
	return p
}

func discLevels(picture *image.Gray) Levels {
	p := discOf(picture)
	l := Levels{Width: p.Width, Height: p.Height, Count: 32, Pix: make([]uint8, len(p.Value))}
	for i, v := range picture.Pix {
		l.Pix[i] = v / 8
		if !p.Inside[i] {
			l.Pix[i] = Outside
		}
	}
	return l
}

// codes returns the codes of all pixels with a whole neighbourhood; the slight ramp of the script keeps neighbours from
// ties.
func codes(picture *image.Gray, code func(bits uint32) int) []int {
	w, h := picture.Rect.Dx(), picture.Rect.Dy()
	p := Picture{Width: w, Height: h, Value: make([]float32, w*h)}
	for i, v := range picture.Pix {
		p.Value[i] = float32(v) + float32(i%w)/64 + float32(i/w)/1024
	}
	circle := NewCircle(8, 1)
	var all []int
	for y := range h {
		for x := range w {
			if bits, ok := circle.Bits(p, x, y); ok {
				all = append(all, code(bits))
			}
		}
	}
	return all
}
