package net

import (
	"bytes"
	"encoding/binary"
	"image"
	"image/color"
	"image/draw"
	"math"
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// painted loads test nets, which do what testdata/painted.py says: a first look by its name, and the second look at
// colours.
func painted(t testing.TB, first string) *Eyes {
	t.Helper()
	n, err := New(file(t, first), file(t, "painted.onnx"))
	require.NoError(t, err)
	t.Cleanup(n.Close)
	return n
}

func file(t testing.TB, name string) []byte {
	t.Helper()
	onnx, err := os.ReadFile("testdata/" + name)
	require.NoError(t, err)
	return onnx
}

// readAll is the second look through one window that just holds the whole photo.
func readAll(n *Eyes, img *image.NRGBA) (*Output, error) {
	width, height := float64(img.Rect.Dx()), float64(img.Rect.Dy())
	across, down := windowFill*width/2, windowFill*height/2
	around := Box{width/2 - across, height/2 - down, width/2 + across, height/2 + down}
	if err := check(img); err != nil {
		return nil, err
	}
	return n.look(img, around, false)
}

func canvas(width, height int, c color.Color) *image.NRGBA {
	img := image.NewNRGBA(image.Rect(0, 0, width, height))
	draw.Draw(img, img.Rect, image.NewUniform(c), image.Point{}, draw.Src)
	return img
}

var blue = color.NRGBA{B: 255, A: 255}

// centroid returns the centre of gravity of a map in photo pixels by the rule of Output.
func centroid(o *Output, values []float32) (x, y float64) {
	sum := 0.0
	for i, v := range values {
		c, r := i%o.Cols, i/o.Cols
		x += float64(v) * ((float64(c)+0.5)*o.CellWidth - 0.5)
		y += float64(v) * ((float64(r)+0.5)*o.CellHeight - 0.5)
		sum += float64(v)
	}
	return x / sum, y / sum
}

func TestSquareLandsWhereItIs(t *testing.T) {
	n := painted(t, "one.onnx")
	// Sizes whose margins are whole cells, odd, turned, enlarged; squares at known pixels, well inside.
	for _, size := range [][2]int{{640, 480}, {1920, 1080}, {600, 400}, {601, 407}, {480, 640}, {407, 601}, {1000, 1000}, {200, 160}} {
		width, height := size[0], size[1]
		for _, at := range []image.Point{{width / 4, height / 3}, {width/2 + 1, height / 2}, {2 * width / 3, height/2 + 7}} {
			img := canvas(width, height, blue)
			box := image.Rect(at.X, at.Y, at.X+width/8, at.Y+height/8)
			draw.Draw(img, box, image.NewUniform(color.NRGBA{R: 255, A: 255}), image.Point{}, draw.Src)
			out, err := readAll(n, img)
			require.NoError(t, err)
			x, y := centroid(out, out.Region[1])
			wantX, wantY := float64(box.Min.X+box.Max.X-1)/2, float64(box.Min.Y+box.Max.Y-1)/2
			// Means and blends keep the centre of gravity. When the content is a fraction of a pixel off the photo's
			// aspect (601x407 becomes 320x217, not 216.7) it is scaled unevenly but still covers the photo exactly.
			most := 0.02
			if width < frameWidth { // enlarged: points are sampled, which keeps no means
				most = 0.04
			}
			assert.InDelta(t, wantX, x, most*out.CellWidth, "%v in %dx%d, hundredths of a cell", box, width, height)
			assert.InDelta(t, wantY, y, most*out.CellHeight, "%v in %dx%d, hundredths of a cell", box, width, height)
		}
	}
}

func TestWholeCellsAreExact(t *testing.T) {
	img := canvas(640, 480, blue)
	box := image.Rect(40, 80, 60, 100) // cells are 4x4 photo pixels here
	draw.Draw(img, box, image.NewUniform(color.NRGBA{R: 255, A: 255}), image.Point{}, draw.Src)
	out, err := readAll(painted(t, "one.onnx"), img)
	require.NoError(t, err)
	assert.Equal(t, []int{160, 120}, []int{out.Cols, out.Rows})
	for i, v := range out.Region[1] {
		c, r := i%out.Cols, i/out.Cols
		want := 0.0
		if image.Pt(4*c, 4*r).In(box) {
			want = 8
		}
		assert.InDelta(t, want, v, 1e-4, "cell %d,%d; float32 rounding", c, r)
	}
}

func TestMarginIsCroppedAway(t *testing.T) {
	n := painted(t, "one.onnx")
	for _, size := range [][2]int{{600, 400}, {401, 600}, {1000, 1000}, {333, 331}} {
		out, err := readAll(n, canvas(size[0], size[1], color.White))
		require.NoError(t, err)
		require.Len(t, out.Deposit[0], out.Cols*out.Rows)
		assert.InDelta(
			t,
			float64(size[0]),
			float64(out.Cols)*out.CellWidth,
			1e-9,
			"the grid covers the photo; float64 rounding",
		)
		assert.InDelta(
			t,
			float64(size[1]),
			float64(out.Rows)*out.CellHeight,
			1e-9,
			"the grid covers the photo; float64 rounding",
		)
		for i, v := range out.Deposit[0] {
			// A margin cell would be 0; a cell cut by the margin holds half of the photo at least.
			require.GreaterOrEqual(t, v, float32(0.49), "cell %d of %v is margin", i, size)
		}
	}
}

func TestFrameReadings(t *testing.T) {
	n := painted(t, "one.onnx")
	lit, err := readAll(n, canvas(640, 480, blue))
	require.NoError(t, err)
	// 1/(1+exp(-3)) and so on, from the biases in painted.py.
	assert.InDelta(t, 0.952574, lit.Frame.Judgeable, 1e-5, "float32 rounding")
	assert.InDelta(t, 0.5, lit.Frame.Index, 1e-5, "float32 rounding")
	assert.InDelta(t, 0.05, lit.Frame.IndexError, 1e-5, "float32 rounding")
	assert.InDelta(t, 0.900250, lit.Frame.Overlap, 1e-5, "float32 rounding")
	assert.InDelta(t, 0.04, lit.Frame.DarkError, 1e-5, "float32 rounding")
	assert.InDeltaSlice(t, []float64{0.1, 0.1, 0.6, 0.1, 0.1}, lit.Frame.Grades[:], 1e-5, "6 to 1; float32 rounding")
	assert.Less(t, lit.Frame.Dark, 0.01)
	dark, err := readAll(n, canvas(640, 480, color.Black))
	require.NoError(t, err)
	assert.InDelta(t, 0.952574, dark.Frame.Dark, 1e-5, "float32 rounding")
}

func TestOutputsOutliveTheNextRun(t *testing.T) {
	n := painted(t, "one.onnx")
	first, err := readAll(n, canvas(64, 48, blue))
	require.NoError(t, err)
	_, err = readAll(n, canvas(64, 48, color.Black))
	require.NoError(t, err)
	assert.InDelta(t, 8, first.Region[0][0], 1e-4, "still the first photo; float32 rounding")
}

func TestWrongNets(t *testing.T) {
	onnx := file(t, "painted.onnx")
	for name, content := range map[string][]byte{
		"missing": nil, "text": []byte("not a net"), "cut in half": onnx[:len(onnx)/2],
	} {
		_, err := New(content)
		assert.ErrorIs(t, err, ErrNet, name)
	}
}

func TestBrokenWeightsAreNoticed(t *testing.T) {
	onnx := file(t, "painted.onnx")
	overlap := binary.LittleEndian.AppendUint32(nil, math.Float32bits(2.2)) // the last bias in painted.py
	nan := binary.LittleEndian.AppendUint32(nil, math.Float32bits(float32(math.NaN())))
	require.Equal(t, 1, bytes.Count(onnx, overlap))
	n, err := New(bytes.Replace(onnx, overlap, nan, 1))
	require.NoError(t, err)
	defer n.Close()
	_, err = readAll(n, canvas(64, 48, blue))
	assert.ErrorIs(t, err, ErrNet)
}

func TestNetOfAnotherShape(t *testing.T) {
	onnx := file(t, "painted.onnx")
	_, err := New(bytes.ReplaceAll(onnx, []byte("maps"), []byte("caps")))
	assert.ErrorIs(t, err, ErrNet)
	assert.ErrorContains(t, err, "maps", "the error names the output that is missing")
}

func TestWrongPhotos(t *testing.T) {
	n := painted(t, "one.onnx")
	for name, img := range map[string]*image.NRGBA{
		"none": nil, "empty": {}, "shifted": image.NewNRGBA(image.Rect(1, 1, 9, 9)),
	} {
		_, err := n.Find(img)
		assert.Error(t, err, name)
		_, err = n.Read(img, Box{0, 0, 8, 8})
		assert.Error(t, err, name)
	}
}

func TestFirstLook(t *testing.T) {
	one, err := painted(t, "one.onnx").Find(canvas(640, 480, blue))
	require.NoError(t, err)
	require.Len(t, one.Valves, 1)
	got := one.Valves[0].Box // the frame is 320x256; the photo lies 8 pixels below its top and takes half of its own size
	assert.InDeltaSlice(
		t,
		[]float64{64, 35.2, 576, 444.8},
		[]float64{got.Left, got.Top, got.Right, got.Bottom},
		0.01,
		"float32 logarithms",
	)
	assert.InDelta(t, 0.952574, one.Valves[0].Probability, 1e-5, "1/(1+exp(-3)); float32 rounding")

	two, err := painted(t, "two.onnx").Find(canvas(640, 480, blue))
	require.NoError(t, err)
	require.Len(t, two.Valves, 2)
	assert.InDelta(t, 288, two.Valves[0].Box.Right, 0.01, "the surer one is on the left; float32 logarithms")
	assert.InDelta(t, 352, two.Valves[1].Box.Left, 0.01, "float32 logarithms")

	dark, err := painted(t, "one.onnx").Find(canvas(640, 480, color.Black))
	require.NoError(t, err)
	assert.Empty(t, dark.Valves)
	assert.InDelta(t, 0.952574, dark.Dark, 1e-5, "float32 rounding")
}

func TestDistinctBoxes(t *testing.T) {
	a, b := Seen{Box{0, 0, 10, 10}, 0.9}, Seen{Box{2, 0, 12, 10}, 0.8} // they share 80 of 120
	c := Seen{Box{8, 0, 18, 10}, 0.7}                                  // shares 20 of 180 with a
	assert.Equal(t, []Seen{a, c}, distinct([]Seen{a, b, c}))

	inner, half := Seen{Box{4, 6, 8, 10}, 0.6}, Seen{Box{8, 0, 12, 4}, 0.5}
	assert.Equal(t, []Seen{a}, distinct([]Seen{a, inner}), "a part, wherever in the other it is")
	assert.Equal(t, []Seen{inner}, distinct([]Seen{inner, a}), "or what it is a part of")
	assert.Equal(t, []Seen{a, half}, distinct([]Seen{a, half}))
}

func TestNoMoreValvesThanAPhotoIsLookedAtFor(t *testing.T) {
	var apart []Seen
	for n := range MostValves + 2 {
		left := 20 * float64(n)
		apart = append(apart, Seen{Box{left, 0, left + 10, 10}, 0.9})
	}
	assert.Equal(t, apart[:MostValves], distinct(apart))
}

func TestClosedNet(t *testing.T) {
	n := painted(t, "one.onnx")
	n.Close()
	n.Close()
	_, err := readAll(n, canvas(64, 48, blue))
	assert.ErrorIs(t, err, ErrNet)
}

func TestTwoNetsForOneLook(t *testing.T) {
	_, err := New(file(t, "one.onnx"), file(t, "two.onnx"))
	assert.ErrorIs(t, err, ErrNet)
}

func TestHash(t *testing.T) {
	// SHA-256 of "abc", FIPS 180-4 example: ba7816bf 8f01cfea ...
	assert.Equal(t, "ba7816bf8f01cfea", hash([kinds][]byte{finder: []byte("a"), reader: []byte("bc")}))
}
