package cv_test

import (
	"image"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"valvegrade/internal/cv"
)

func TestConnectedComponents(t *testing.T) {
	found, err := cv.ConnectedComponents(drawing(
		"##.....",
		"##...#.",
		"..#..##",
		".......",
	))
	require.NoError(t, err)
	assert.Equal(t, []int32{
		1, 1, 0, 0, 0, 0, 0,
		1, 1, 0, 0, 0, 2, 0,
		0, 0, 1, 0, 0, 2, 2,
		0, 0, 0, 0, 0, 0, 0,
	}, found.Label, "pixels that touch at a corner belong together")
	require.Len(t, found.Blobs, 2)
	assert.Equal(t, cv.Blob{Area: 5, Box: image.Rect(0, 0, 3, 3), X: 0.8, Y: 0.8}, found.Blobs[0])
	assert.Equal(t, 3, found.Blobs[1].Area)
	assert.Equal(t, image.Rect(5, 1, 7, 3), found.Blobs[1].Box)
	assert.Equal(t, int32(1), found.Largest())
	only := found.Mask(func(label int32, _ cv.Blob) bool { return label == 2 })
	assert.Equal(t, drawn(".......", ".....#.", ".....##", "......."), text(t, only, nil))
}

func TestEmptyMaskHasNoComponents(t *testing.T) {
	found, err := cv.ConnectedComponents(drawing("...", "..."))
	require.NoError(t, err)
	assert.Empty(t, found.Blobs)
	assert.Zero(t, found.Largest())
	assert.Equal(t, make([]int32, 6), found.Label)
}

func TestMorph(t *testing.T) {
	spot := drawing(".....", ".....", "..#..", ".....", ".....")
	plus := drawn(".....", "..#..", ".###.", "..#..", ".....")
	grown, err := cv.Morph(spot, cv.Dilate, 1)
	assert.Equal(t, plus, text(t, grown, err))
	shrunk, err := cv.Morph(grown, cv.Erode, 1)
	assert.Equal(t, text(t, spot, nil), text(t, shrunk, err))

	opened, err := cv.Morph(drawing("####...", "####...", "#######", "####...", "####..."), cv.Open, 1)
	assert.Equal(t, drawn("####...", "####...", "#####..", "####...", "####..."), text(t, opened, err),
		"the spike goes, but for the arm of a plus that fits at its root")
	closed, err := cv.Morph(drawing("#####", "#####", "##.##", "#####", "#####"), cv.Close, 1)
	assert.Equal(t, drawn("#####", "#####", "#####", "#####", "#####"), text(t, closed, err), "the gap closes")
}

func TestMorphIgnoresWhatIsBeyondTheBorder(t *testing.T) {
	full := drawing("####", "####", "####")
	for _, o := range []cv.Operation{cv.Erode, cv.Dilate, cv.Open, cv.Close} {
		same, err := cv.Morph(full, o, 1)
		assert.Equal(t, text(t, full, nil), text(t, same, err), "operation %d", o)
	}
}

func TestFillHoles(t *testing.T) {
	filled, err := cv.FillHoles(drawing(
		"#####..",
		"#...#.#",
		"#.#.##.",
		"#...#..",
		"#####..",
	))
	assert.Equal(t, drawn(
		"#####..",
		"#####.#",
		"######.",
		"#####..",
		"#####..",
	), text(t, filled, err), "the bay on the right reaches the border and stays open")
}

func TestDistanceIsExact(t *testing.T) {
	m := image.NewGray(image.Rect(0, 0, 21, 17))
	for i := range m.Pix {
		m.Pix[i] = 1
	}
	m.Pix[4*21+6], m.Pix[12*21+15] = 0, 0
	found, err := cv.Distance(m)
	require.NoError(t, err)
	for y := range 17 {
		for x := range 21 {
			want := min(math.Hypot(float64(x-6), float64(y-4)), math.Hypot(float64(x-15), float64(y-12)))
			assert.InDelta(t, want, found.Pix[y*21+x], 1e-5, "float32 root at (%d, %d)", x, y)
		}
	}
}

func TestDistanceIsInfiniteWhenNothingIsOutside(t *testing.T) {
	found, err := cv.Distance(drawing("##", "##"))
	require.NoError(t, err)
	for _, v := range found.Pix {
		assert.True(t, math.IsInf(float64(v), 1))
	}
}

func TestSubImagesAreReadByTheirOwnRows(t *testing.T) {
	whole := drawing("#.....", "..##..", "..##..", "#....#")
	part := whole.SubImage(image.Rect(1, 1, 5, 3)).(*image.Gray)
	found, err := cv.ConnectedComponents(part)
	require.NoError(t, err)
	require.Len(t, found.Blobs, 1)
	assert.Equal(t, image.Rect(1, 0, 3, 2), found.Blobs[0].Box)
	filled, err := cv.FillHoles(part)
	assert.Equal(t, drawn(".##.", ".##."), text(t, filled, err))
}

func TestUnusableMasksAreErrors(t *testing.T) {
	masks := map[string]*image.Gray{
		"nil":          nil,
		"zero":         {},
		"empty":        image.NewGray(image.Rect(0, 0, 0, 5)),
		"short":        {Pix: make([]uint8, 11), Stride: 4, Rect: image.Rect(0, 0, 4, 3)},
		"small stride": {Pix: make([]uint8, 12), Stride: 3, Rect: image.Rect(0, 0, 4, 3)},
		"huge":         {Pix: make([]uint8, 12), Stride: 1 << 30, Rect: image.Rect(0, 0, 1<<30, 1<<30)},
	}
	for name, mask := range masks {
		t.Run(name, func(t *testing.T) {
			_, err := cv.ConnectedComponents(mask)
			assert.Error(t, err)
			_, err = cv.FillHoles(mask)
			assert.Error(t, err)
			_, err = cv.Distance(mask)
			assert.Error(t, err)
			_, err = cv.Morph(mask, cv.Open, 1)
			assert.Error(t, err)
		})
	}
	for _, radius := range []int{-1, 0, 256, 1 << 40} {
		_, err := cv.Morph(drawing("##"), cv.Open, radius)
		assert.Error(t, err, "radius %d", radius)
	}
	_, err := cv.Morph(drawing("##"), cv.Operation(9), 1)
	assert.Error(t, err)
}
