package heic

import (
	"context"
	"errors"
	"image"
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func file(t *testing.T, path string) []byte {
	data, err := os.ReadFile(path)
	require.NoError(t, err)
	return data
}

func anySize(image.Point) error { return nil }

func TestDecodeAsksAboutTheSizeFirst(t *testing.T) {
	data := file(t, "../../pkg/photo/testdata/still.heic")
	var size image.Point
	picture, err := Decode(t.Context(), data, func(s image.Point) error { size = s; return nil })
	require.NoError(t, err)
	assert.Equal(t, image.Rectangle{Max: size}, picture.Bounds())

	objection := errors.New("too wide")
	_, err = Decode(t.Context(), data, func(image.Point) error { return objection })
	assert.ErrorIs(t, err, objection)
}

func TestPictureLargerThanItsFileSaysIsBounded(t *testing.T) {
	// 12000 x 12000 pixels under a property that says 200 x 200; made with heif-enc of libheif, and its "ispe" box
	// changed.
	var size image.Point
	_, err := Decode(t.Context(), file(t, "testdata/lying.heic"), func(s image.Point) error { size = s; return nil })
	assert.Equal(t, image.Pt(200, 200), size)
	assert.ErrorIs(t, err, ErrDamaged)
}

func TestDecodeEndsWithItsContext(t *testing.T) {
	ctx, cancel := context.WithCancel(t.Context())
	data := file(t, "../../pkg/photo/testdata/still.heic")
	_, err := Decode(ctx, data, func(image.Point) error { cancel(); return nil }) // between the header and the picture
	assert.ErrorIs(t, err, context.Canceled)
	_, err = Decode(t.Context(), data, anySize)
	assert.NoError(t, err, "the next run has a machine of its own")
}

func TestDamage(t *testing.T) {
	data := file(t, "../../pkg/photo/testdata/still.heic")
	for _, damaged := range [][]byte{nil, data[:100], data[:len(data)/2], []byte("no picture")} {
		_, err := Decode(t.Context(), damaged, anySize)
		assert.ErrorIs(t, err, ErrDamaged, "%d bytes", len(damaged))
	}
}
