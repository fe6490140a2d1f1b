package region

import (
	"fmt"
	"image"
	"image/color"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"valvegrade/pkg/reason"
)

func codes(r *Region) []reason.Code {
	found := []reason.Code{}
	for _, each := range r.Reasons {
		found = append(found, each.Code)
	}
	return found
}

func TestFindOutlinesAValve(t *testing.T) {
	f := paintedFinder(t)
	for _, size := range [][2]int{{640, 480}, {1920, 1080}, {480, 640}, {601, 407}, {1000, 1000}, {240, 180}} {
		t.Run(fmt.Sprintf("%dx%d", size[0], size[1]), func(t *testing.T) {
			truth := valve(size[0], size[1])
			mask := truth.draw(size[0], size[1])
			r, err := f.Find(paintMask(mask), nil)
			require.NoError(t, err)
			assert.Equal(t, mask.Rect, r.Mask.Rect)
			assert.Greater(t, IoU(mask, r.Mask, Head), 0.99, "head")
			assert.Greater(t, IoU(mask, r.Mask, Stem), 0.95, "stem: half a cell along its thin sides")
			assert.Equal(t, count(r.Mask, Head), r.HeadPixels)
			assert.Equal(t, count(r.Mask, Stem), r.StemPixels)
			require.NotNil(t, r.Ellipse)
			cell := r.Evidence.CellWidth
			assertEllipse(t, truth.Head, *r.Ellipse, 0.5*cell, "half a cell")
			require.NotNil(t, r.Axis)
			assertLine(t, *truth.Stem, *r.Axis, cell, 2*cell, "stem")
			assert.Empty(t, r.Reasons)
			assert.Equal(t, Auto, r.Source)
			assert.Zero(t, r.OtherValves)
			// The painted net expects 0.900 (painted.py) and the mask is sharp.
			assert.InDelta(t, (0.9+1)/2, r.Confidence, 0.03, "soft cells along the outline")
		})
	}
}

func TestFindPicksThePrincipalValve(t *testing.T) {
	mask := valve(640, 480).draw(640, 480)
	other := (&Marks{Head: Ellipse{60, 420, 70, 60, 0}}).draw(640, 480)
	both := image.NewGray(mask.Rect)
	for i := range both.Pix {
		both.Pix[i] = max(mask.Pix[i], other.Pix[i])
	}
	r, err := paintedFinder(t).Find(paintMask(both), nil)
	require.NoError(t, err)
	assert.Greater(t, IoU(mask, r.Mask, Head, Stem), 0.99)
	assert.Equal(t, 1, r.OtherValves)
	assert.Equal(t, []reason.Code{reason.OtherValve}, codes(r))
	assert.Less(t, r.Confidence, 0.92, "what was left out counts as doubt")
}

func TestFindReasons(t *testing.T) {
	f := paintedFinder(t)
	headOnly := valve(640, 480)
	headOnly.Stem = nil
	cut := valve(640, 480)
	cut.Head.X = 80
	cut.Stem.X1, cut.Stem.X2 = 100, 85
	tiny := &Marks{Head: Ellipse{320, 240, 15, 15, 0}}
	for name, c := range map[string]struct {
		marks *Marks
		want  []reason.Code
	}{
		"whole":       {valve(640, 480), []reason.Code{}},
		"stem hidden": {headOnly, []reason.Code{reason.StemHidden}},
		"cut off":     {cut, []reason.Code{reason.CutOff}},
		"tiny":        {tiny, []reason.Code{reason.NoValve, reason.StemHidden}},
	} {
		r, err := f.Find(paintMask(c.marks.draw(640, 480)), nil)
		require.NoError(t, err, name)
		assert.Equal(t, c.want, codes(r), name)
	}
}

func TestFindNothing(t *testing.T) {
	f := paintedFinder(t)
	for name, c := range map[string]struct {
		colour color.Color
		want   reason.Code
	}{
		"only background": {blue, reason.NoValve},
		"black":           {color.Black, reason.TooDark},
	} {
		r, err := f.Find(plain(640, 480, c.colour), nil)
		require.NoError(t, err, name)
		assert.Equal(t, []reason.Code{c.want}, codes(r), name)
		assert.True(t, reason.Refuses(r.Reasons), name)
		assert.Zero(t, r.HeadPixels+r.StemPixels, name)
		assert.Zero(t, r.Confidence, name)
		assert.Nil(t, r.Ellipse, name)
		assert.Nil(t, r.Axis, name)
		assert.True(t, r.Bounds().Empty(), name)
	}
}

func TestMarksOverrideTheNet(t *testing.T) {
	marks := valve(640, 480)
	r, err := paintedFinder(t).Find(plain(640, 480, blue), marks)
	require.NoError(t, err)
	assert.Equal(t, marks.draw(640, 480), r.Mask)
	assert.Equal(t, ByHand, r.Source)
	assert.InDelta(t, 1, r.Confidence, 0)
	assert.Equal(t, marks.Head, *r.Ellipse)
	assert.Equal(t, marks.Stem, r.Axis)
	assert.Empty(t, r.Reasons, "the net sees no valve, the person does")
	assert.NotNil(t, r.Evidence)
}

func TestMarksMustFitThePhoto(t *testing.T) {
	_, err := paintedFinder(t).Find(plain(320, 240, blue), &Marks{Head: Ellipse{1000, 100, 50, 40, 0}})
	assert.ErrorIs(t, err, ErrMarks)
}

func TestFindRepeats(t *testing.T) {
	f := paintedFinder(t)
	p := paintMask(valve(640, 480).draw(640, 480))
	first, err := f.Find(p, nil)
	require.NoError(t, err)
	_, err = f.Find(plain(640, 480, red), nil)
	require.NoError(t, err)
	second, err := f.Find(p, nil)
	require.NoError(t, err)
	assert.Equal(t, first, second)
}

func TestStages(t *testing.T) {
	f := paintedFinder(t)
	var seen []string
	f.stage = func(name string, mask *image.Gray) {
		seen = append(seen, name)
		assert.Equal(t, image.Rect(0, 0, 640, 480), mask.Rect)
	}
	_, err := f.Find(plain(640, 480, blue), nil)
	require.NoError(t, err)
	assert.Equal(t, []string{"1-proposed", "2-tidied"}, seen)
}

func TestNoPhotoAndNoNet(t *testing.T) {
	_, err := paintedFinder(t).Find(nil, nil)
	assert.Error(t, err)
	_, err = NewFinder(FinderOptions{Net: []byte("not a net")})
	assert.Error(t, err)
}
