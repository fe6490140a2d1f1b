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

// TestGolden compares the embedded net, run by OpenCV, with what the training framework computed from the same photo.
// scripts/train/export.py writes the net and both golden files together.
func TestGolden(t *testing.T) {
	n, err := Default()
	require.NoError(t, err)
	defer n.Close()
	img := goldenPhoto(t)
	require.Equal(t, image.Rect(0, 0, frameWidth, frameHeight), img.Rect)
	maps, frame, err := n.forward(letterbox(img, place(frameWidth, frameHeight)))
	require.NoError(t, err)

	golden := goldenOutputs(t)
	assert.LessOrEqual(t, worst(golden[:mapsLength], maps), 1e-4, "maps; another order of float32 sums")
	assert.LessOrEqual(t, worst(golden[mapsLength:], frame), 1e-4, "frame; another order of float32 sums")
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

func goldenOutputs(t *testing.T) []float32 {
	bytes, err := os.ReadFile("testdata/golden.f32")
	require.NoError(t, err)
	require.Len(t, bytes, 4*(mapsLength+frameLength))
	values := make([]float32, mapsLength+frameLength)
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
