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
			r := only(t, f, paintMask(mask), nil)
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

// pair paints two valves side by side into a photo of 640x480; the right one is this many times as large.
func pair(larger float64) (left, right, both *image.Gray) {
	at := func(x, size float64) *image.Gray {
		return (&Marks{
			Head: Ellipse{x, 270, 90 * size, 70 * size, 0}, Stem: &Line{x, 270 - 160*size, x, 270 - 10*size, 24 * size},
		}).draw(640, 480)
	}
	left, right = at(160, 1), at(480, larger)
	both = image.NewGray(left.Rect)
	for i := range both.Pix {
		both.Pix[i] = max(left.Pix[i], right.Pix[i])
	}
	return left, right, both
}

func TestFindTwoValves(t *testing.T) {
	left, right, both := pair(1.1)
	found, err := finderWith(t, "two.onnx").Find(paintMask(both), nil)
	require.NoError(t, err)
	require.Len(t, found, 2)
	assert.Greater(t, IoU(left, found[0].Mask, Head, Stem), 0.98, "from left to right; half a cell along thin sides")
	assert.Greater(t, IoU(right, found[1].Mask, Head, Stem), 0.98)
	for _, r := range found {
		assert.Empty(t, r.Reasons)
		assert.Zero(t, r.OtherValves)
	}
}

func TestASliverBesideAValveIsNotGraded(t *testing.T) {
	_, right, both := pair(3.2)
	found, err := finderWith(t, "two.onnx").Find(paintMask(both), nil)
	require.NoError(t, err)
	require.Len(t, found, 1)
	assert.Greater(t, IoU(right, found[0].Mask, Head, Stem), 0.5)
}

func TestAValveBesideNothing(t *testing.T) {
	left, _, _ := pair(1)
	found, err := finderWith(t, "two.onnx").Find(paintMask(left), nil)
	require.NoError(t, err)
	require.Len(t, found, 1, "what the first look took for a valve and the second does not is nothing")
	assert.Greater(t, IoU(left, found[0].Mask, Head, Stem), 0.98)
	assert.Empty(t, found[0].Reasons)
}

func TestPartsOfOneValve(t *testing.T) {
	whole := block(image.Rect(10, 10, 40, 40), 50, Head)
	part := block(image.Rect(25, 25, 45, 40), 50, Head) // three quarters of it within the other
	beside := block(image.Rect(35, 10, 48, 40), 50, Head)
	region := func(mask *image.Gray, confidence float64) *Region {
		c := takeCensus(mask)
		return &Region{Mask: mask, HeadPixels: c[Head].pixels, Confidence: confidence}
	}
	a, b := region(whole, 0.9), region(part, 0.8)
	assert.Equal(t, []*Region{a}, choose(nil, []*Region{a, b}))

	c := region(beside, 0.8)
	assert.Equal(t, []*Region{a, c}, choose(nil, []*Region{c, a}))
	assert.Equal(t, 30*30, a.HeadPixels, "the surer one keeps what both claim")
	assert.Equal(t, 8*30, c.HeadPixels)
}

func TestASliceOfANeighbourIsNotGraded(t *testing.T) {
	region := func(pixels int, reasons ...reason.Code) *Region {
		r := &Region{Mask: image.NewGray(image.Rect(0, 0, 9, 9)), HeadPixels: pixels}
		for _, code := range reasons {
			r.Reasons = append(r.Reasons, reason.Of(code))
		}
		return r
	}
	whole, small := region(1000), region(200)
	assert.Len(t, choose(nil, []*Region{whole, small}), 2, "a small valve in full view")
	graded := choose(nil, []*Region{region(1000), region(200, reason.CutOff)})
	require.Len(t, graded, 1)
	assert.Equal(t, 1, graded[0].OtherValves)
	assert.Len(t, choose(nil, []*Region{region(1000), region(400, reason.CutOff)}), 2)
	assert.Len(t, choose(nil, []*Region{region(300, reason.CutOff)}), 1, "of what is left of a valve alone")
}

func TestTheMostTellingRefusal(t *testing.T) {
	refused := func(code reason.Code) *Region {
		return &Region{Mask: image.NewGray(image.Rect(0, 0, 9, 9)), Reasons: []reason.Reason{reason.Of(code)}}
	}
	none, blurred := refused(reason.NoValve), refused(reason.Blurred)
	assert.Equal(t, []*Region{blurred}, choose(nil, []*Region{none, blurred}))
	assert.Equal(t, []*Region{none}, choose(nil, []*Region{none, none}))
}

func TestFindReasons(t *testing.T) {
	f := paintedFinder(t)
	headOnly := valve(640, 480)
	headOnly.Stem = nil
	cut := valve(640, 480)
	cut.Head.X = 80
	cut.Stem.X1, cut.Stem.X2 = 100, 85
	tiny := &Marks{Head: Ellipse{320, 240, 13, 13, 0}}
	for name, c := range map[string]struct {
		marks *Marks
		want  []reason.Code
	}{
		"whole":       {valve(640, 480), []reason.Code{}},
		"stem hidden": {headOnly, []reason.Code{reason.StemHidden}},
		"cut off":     {cut, []reason.Code{reason.CutOff}},
		"tiny":        {tiny, []reason.Code{reason.NoValve, reason.StemHidden}},
	} {
		r := only(t, f, paintMask(c.marks.draw(640, 480)), nil)
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
		r := only(t, f, plain(640, 480, c.colour), nil)
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
	marks.By = "Ann"
	r := only(t, paintedFinder(t), plain(640, 480, blue), marks)
	assert.Equal(t, marks.draw(640, 480), r.Mask)
	assert.Equal(t, ByHand, r.Source)
	assert.Equal(t, "Ann", r.OutlinedBy)
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
	_, err = NewFinder(FinderOptions{Nets: [][]byte{[]byte("not a net")}})
	assert.Error(t, err)
}

func TestOutlinesOfSeveralValves(t *testing.T) {
	left, right, both := pair(1.1)
	f, p := finderWith(t, "two.onnx"), paintMask(both)
	found, err := f.Find(p, nil)
	require.NoError(t, err)
	require.Len(t, found, 2)
	outline := func(r *Region) Outline { return Outline{Head: *r.Ellipse, Stem: r.Axis} }
	one, other := outline(found[0]), outline(found[1])

	alone, err := f.Find(p, &Marks{Head: other.Head, Stem: other.Stem})
	require.NoError(t, err)
	require.Len(t, alone, 1, "without a word on others the photo is of the outlined valve")

	moved := other
	moved.Head.X += other.Head.B
	beside, err := f.Find(p, &Marks{Head: moved.Head, Stem: moved.Stem, FindOthers: true, By: "Ann"})
	require.NoError(t, err)
	require.Len(t, beside, 2, "the outline by hand replaces that of its valve, however far off that is")
	assert.Greater(t, IoU(left, beside[0].Mask, Head, Stem), 0.98, "the other one stays as it was found")
	assert.Equal(t, Auto, beside[0].Source)
	assert.Empty(t, beside[0].OutlinedBy)
	assert.Equal(t, ByHand, beside[1].Source)
	assert.Equal(t, "Ann", beside[1].OutlinedBy)

	set, err := f.Find(p, &Marks{Head: other.Head, Stem: other.Stem, Others: []Outline{one}})
	require.NoError(t, err)
	require.Len(t, set, 2)
	assert.Less(t, set[0].middle(), set[1].middle(), "from left to right, in whatever order they were set")
	assert.Greater(t, IoU(left, set[0].Mask, Head, Stem), 0.8)
	assert.Greater(t, IoU(right, set[1].Mask, Head, Stem), 0.8)
	for _, r := range set {
		assert.Equal(t, ByHand, r.Source)
	}

	_, err = f.Find(p, &Marks{Head: one.Head, Others: []Outline{one}})
	require.ErrorIs(t, err, ErrMarks)
	assert.ErrorContains(t, err, "lie on each other")
}

func TestASmallOutlineByHandStays(t *testing.T) {
	region := func(pixels int, source Source) *Region {
		return &Region{Mask: image.NewGray(image.Rect(0, 0, 9, 9)), HeadPixels: pixels, Source: source}
	}
	assert.Len(t, choose([]*Region{region(50, ByHand)}, []*Region{region(1000, Auto), region(50, Auto)}), 2)
}
