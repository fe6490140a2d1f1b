package net

import (
	"image"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A photo and the same one upside down give the same answers, each where it belongs.
func TestTheSecondLookHasNoUp(t *testing.T) {
	n, err := New()
	require.NoError(t, err)
	defer n.Close()
	img := goldenPhoto(t)
	over := image.NewNRGBA(img.Rect)
	for y := range img.Rect.Dy() {
		for x := range img.Rect.Dx() {
			over.Set(x, img.Rect.Dy()-1-y, img.At(x, y))
		}
	}
	require.NotEqual(t, img.Pix, over.Pix)
	upright, err := readAll(n, img)
	require.NoError(t, err)
	turned, err := readAll(n, over)
	require.NoError(t, err)
	for i := range 3 {
		turnOver(turned.Region[i], turned.Cols, turned.Rows)
		turnOver(turned.Deposit[i], turned.Cols, turned.Rows)
		assert.LessOrEqual(t, worst(upright.Region[i], turned.Region[i]), 1e-3)
		assert.LessOrEqual(t, worst(upright.Deposit[i], turned.Deposit[i]), 1e-3)
	}
	assert.InDelta(t, upright.Frame.Index, turned.Frame.Index, 1e-4)
	assert.InDelta(t, upright.Frame.Judgeable, turned.Frame.Judgeable, 1e-4)
}

func TestTurnedOverPlanes(t *testing.T) {
	planes := []float32{1, 2, 3, 4, 5, 6, 10, 20, 30, 40, 50, 60}
	turnOver(planes, 2, 3)
	assert.Equal(t, []float32{5, 6, 3, 4, 1, 2, 50, 60, 30, 40, 10, 20}, planes)
	turnOver(planes, 6, 1)
	assert.Equal(t, []float32{5, 6, 3, 4, 1, 2, 50, 60, 30, 40, 10, 20}, planes, "one row has no other end")
}

// A net may be so sure of seeing nothing that its sigmoid is 0: the mean must stay a number.
func TestSharesOfTwoAnswers(t *testing.T) {
	assert.InDelta(t, 0.25, shareOfSecond(0.9, 0.3), 1e-6)
	assert.Zero(t, shareOfSecond(0.9, 0))
	assert.InDelta(t, 0.5, shareOfSecond(sigmoid(-1000), sigmoid(-1000)), 1e-6)
}
