package net

import (
	"encoding/binary"
	"image"
	"image/draw"
	"image/png"
	"math"
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestGolden compares the embedded nets, run by OpenCV, with what the training framework computed from the same photo.
// scripts/train/export.py writes the nets and their golden files together.
func TestGolden(t *testing.T) {
	n, err := New()
	require.NoError(t, err)
	defer n.Close()
	img := goldenPhoto(t)
	require.Equal(t, image.Rect(0, 0, frameWidth, frameHeight), img.Rect)
	for k, name := range [kinds]string{"finder", "reader"} {
		maps, frame, err := n.models[k].forward(letterbox(img, placeWhole(frameWidth, frameHeight)))
		require.NoError(t, err, name)
		golden := goldenOutputs(t, "testdata/"+name+".f32", len(maps)+len(frame))
		assert.LessOrEqual(t, worst(golden[:len(maps)], maps), 1e-4, "%s, maps; another order of float32 sums", name)
		assert.LessOrEqual(t, worst(golden[len(maps):], frame), 1e-4, "%s, frame; another order of float32 sums", name)
	}
}

func goldenPhoto(t *testing.T) *image.NRGBA {
	file, err := os.Open("testdata/golden.png")
	require.NoError(t, err)
	defer file.Close()
	decoded, err := png.Decode(file)
	require.NoError(t, err)
	img := image.NewNRGBA(decoded.Bounds())
	draw.Draw(img, img.Rect, decoded, decoded.Bounds().Min, draw.Src)
	return img
}

func goldenOutputs(t *testing.T, name string, count int) []float32 {
	bytes, err := os.ReadFile(name)
	require.NoError(t, err)
	require.Len(t, bytes, 4*count)
	values := make([]float32, count)
	for i := range values {
		values[i] = math.Float32frombits(binary.LittleEndian.Uint32(bytes[4*i:]))
	}
	return values
}

func worst(want, got []float32) float64 {
	most := 0.0
	for i := range want {
		most = math.Max(most, math.Abs(float64(want[i])-float64(got[i])))
	}
	return most
}
