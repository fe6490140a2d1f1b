package lossless

import (
	"bytes"
	"errors"
	"image"
	"image/color"
	"image/png"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

var random = rand.New(rand.NewPCG(7, 8))

// painted fills a picture's bytes: runs as in a mask, or noise.
func painted(pix []uint8, noise bool) {
	for i := range pix {
		if noise || i == 0 || random.IntN(9) == 0 {
			pix[i] = uint8(random.IntN(256))
		} else {
			pix[i] = pix[i-1]
		}
	}
}

func reread(t *testing.T, picture image.Image) image.Image {
	t.Helper()
	var file bytes.Buffer
	require.NoError(t, WritePNG(&file, picture))
	read, err := png.Decode(&file)
	require.NoError(t, err)
	return read
}

func TestPicturesAreReadAsTheyWereWritten(t *testing.T) {
	for _, size := range []image.Point{{1, 1}, {2, 3}, {7, 5}, {8, 8}, {301, 40}, {700, 300}} {
		for _, noise := range []bool{false, true} {
			grey := image.NewGray(image.Rectangle{Max: size})
			painted(grey.Pix, noise)
			assert.Equal(t, grey, reread(t, grey), "%v", size)

			colours := image.NewRGBA(image.Rectangle{Max: size})
			painted(colours.Pix, noise)
			for i := 3; i < len(colours.Pix); i += 4 {
				colours.Pix[i] = 255
			}
			assert.Equal(t, colours, reread(t, colours), "%v", size)
		}
	}
}

func TestPartsOfPicturesAreWritten(t *testing.T) {
	grey := image.NewGray(image.Rect(0, 0, 20, 20))
	painted(grey.Pix, true)
	part := grey.SubImage(image.Rect(3, 5, 14, 17)).(*image.Gray)
	assert.Equal(t, part.GrayAt(13, 16), reread(t, part).At(10, 11))
}

func TestOtherPicturesAreWrittenToo(t *testing.T) {
	clear := image.NewRGBA(image.Rect(0, 0, 3, 3))
	clear.SetRGBA(1, 1, color.RGBA{20, 30, 40, 50})
	assert.Equal(t, color.NRGBAModel.Convert(clear.At(1, 1)), color.NRGBAModel.Convert(reread(t, clear).At(1, 1)))
}

func TestEmptyPicturesAreErrors(t *testing.T) {
	for _, picture := range []image.Image{&image.Gray{}, &image.RGBA{}, image.NewGray(image.Rect(0, 0, 5, 0))} {
		var file bytes.Buffer
		assert.Error(t, WritePNG(&file, picture))
		assert.Zero(t, file.Len())
	}
}

func TestSamePixelsSameBytes(t *testing.T) {
	grey := image.NewGray(image.Rect(0, 0, 300, 200))
	painted(grey.Pix, false)
	var first, second bytes.Buffer
	require.NoError(t, WritePNG(&first, grey))
	another := image.NewGray(image.Rect(0, 0, 90, 90)) // through the same compressor
	require.NoError(t, WritePNG(new(bytes.Buffer), another))
	require.NoError(t, WritePNG(&second, grey))
	assert.Equal(t, first.Bytes(), second.Bytes())
}

func TestSubtract(t *testing.T) {
	a, b := make([]uint8, 1000), make([]uint8, 1000)
	painted(a, true)
	painted(b, true)
	got := make([]uint8, len(a))
	subtract(got, a, b)
	for i := range got {
		require.Equal(t, a[i]-b[i], got[i])
	}
}

// full is a disk with room for so many bytes.
type full int

var errFull = errors.New("no room")

func (f *full) Write(p []byte) (int, error) {
	if *f -= full(len(p)); *f < 0 {
		return 0, errFull
	}
	return len(p), nil
}

func TestErrorsOfTheFileAreTold(t *testing.T) {
	noise := image.NewGray(image.Rect(0, 0, 600, 600))
	painted(noise.Pix, true)
	for _, room := range []full{0, 8, 30, 1 << 16, 1 << 17, 3 << 17} {
		err := WritePNG(&room, noise)
		if room < 0 {
			assert.ErrorIs(t, err, errFull)
		} else {
			assert.NoError(t, err)
		}
	}
}
