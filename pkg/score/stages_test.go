package score

import (
	"image"
	"image/color"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"valvegrade/internal/ramp"
	"valvegrade/pkg/deposit"
	"valvegrade/pkg/photo"
	"valvegrade/pkg/region"
)

// A refused photo shows how far it got.
func TestStagesEndWhereThePhotoDid(t *testing.T) {
	assert.Empty(t, Stages([]*Result{{}}))
	pixels := image.NewNRGBA(image.Rect(0, 0, 3, 1))
	for x, grey := range []uint8{200, 255, 0} {
		pixels.SetNRGBA(x, 0, color.NRGBA{grey, grey, grey, 0xff})
	}
	r := &Result{Photo: &photo.Photo{Pixels: pixels, Width: 3, Height: 1}}
	assert.Len(t, Stages([]*Result{r}), 1)
	row := func(values ...uint8) *image.Gray { return &image.Gray{Pix: values, Stride: 3, Rect: pixels.Rect} }
	r.Region = &region.Region{Mask: row(region.Head, region.Stem, region.Background)}
	assert.Len(t, Stages([]*Result{r}), 2)

	r.Deposit = &deposit.Deposit{Map: row(deposit.Heavy, deposit.Unreadable, deposit.NotValve)}
	stages := Stages([]*Result{r})
	require.Len(t, stages, len(StageNames()))
	for n, name := range StageNames() {
		assert.Equal(t, name, stages[n].Name)
	}
	assert.Equal(t, color.NRGBA{200, 200, 200, 0xff}, stages[2].Picture.At(0, 0), "the luma of the valve")
	assert.Equal(t, photo.Burnt, stages[2].Picture.At(1, 0))
	assert.Equal(t, color.NRGBA{}, stages[2].Picture.At(2, 0), "not valve")
	assert.Equal(t, opaque(ramp.Soot), stages[4].Picture.At(0, 0))
	assert.Equal(t, photo.Burnt, stages[4].Picture.At(1, 0))
	assert.Equal(t, color.NRGBA{0, 0, 0, 0xff}, stages[4].Picture.At(2, 0), "the photo, darkened")
}
