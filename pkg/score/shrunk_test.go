package score

import (
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"valvegrade/pkg/photo"
	"valvegrade/pkg/region"
)

// What a result says of a photo that was shrunk on reading is in the pixels of its file.
func TestShrunkPhotoIsDescribedInItsOwnPixels(t *testing.T) {
	halved := Options{Limits: photo.Limits{KeptPixels: 320 * 240}}
	name := "../../testdata/engine/cyl2-valve1-before.jpg"
	whole, half := only(t, newScorer(t, Options{}).Score(name)), only(t, newScorer(t, halved).Score(name))
	require.Equal(t, Scored, half.Status, half.Reasons)
	assert.Equal(t, 320, half.Photo.Width)
	assert.Equal(t, []int{640, 480}, []int{half.Width, half.Height})
	a, b := whole.Record(), half.Record()
	assert.InEpsilon(t, *a.Pixels, *b.Pixels, 0.03, "outlines differ by a pixel at most")
	assert.InEpsilon(t, a.Head.Pixels, b.Head.Pixels, 0.03)
	assert.InDelta(t, a.HeadEllipse.X.Value(), b.HeadEllipse.X.Value(), 4)
	assert.InDelta(t, a.HeadEllipse.A.Value(), b.HeadEllipse.A.Value(), 4)
	assert.InDelta(t, a.StemLine.Width.Value(), b.StemLine.Width.Value(), 4)

	dir := t.TempDir()
	require.NoError(t, WriteMasks(dir, []*Result{half}))
	mask, err := ReadMask(filepath.Join(dir, half.Label+RegionSuffix))
	require.NoError(t, err)
	assert.Equal(t, whole.Region.Mask.Rect, mask.Rect)
	var labels [3]int
	for _, label := range mask.Pix {
		labels[label]++
	}
	assert.Equal(t, *b.Pixels, labels[region.Head]+labels[region.Stem])
}

func TestMarksOfAShrunkPhotoAreInItsOwnPixels(t *testing.T) {
	marks := &region.Marks{Head: head, Stem: &region.Line{X1: 320, Y1: 10, X2: 320, Y2: 150, Width: 44}}
	o := Options{Marks: marks, Limits: photo.Limits{KeptPixels: 320 * 240}}
	rec := only(t, newScorer(t, o).Score(demoPhoto)).Record()
	assert.Equal(
		t,
		[]float64{320, 240, 150, 120},
		[]float64{
			rec.HeadEllipse.X.Value(),
			rec.HeadEllipse.Y.Value(),
			rec.HeadEllipse.A.Value(),
			rec.HeadEllipse.B.Value(),
		},
	)
	assert.Equal(t, 44.0, rec.StemLine.Width.Value())

	marks.Head.X = 1300
	r := only(t, newScorer(t, o).Score(demoPhoto))
	require.Equal(t, Refused, r.Status)
	assert.Contains(t, r.Reasons[0].Advice, "640x480", "the size that the user knows")
}
