package draw

import (
	"flag"
	"image"
	"image/color"
	"image/draw"
	"image/png"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"valvegrade/internal/ramp"
	"valvegrade/pkg/reason"
	"valvegrade/pkg/region"
	"valvegrade/pkg/score"
)

var regen = flag.Bool("regen", false, "write the golden pictures anew")

func TestOverlayLooksAsApproved(t *testing.T) {
	refused := valve(400, 300)
	refused.Status, refused.Grade, refused.Reasons = score.Refused, nil, []reason.Reason{
		reason.Of(reason.Blurred),
		reason.Of(reason.Glare),
	}
	for name, r := range map[string]*score.Result{"scored": valve(640, 480), "refused": refused} {
		matches(t, filepath.Join("testdata", name+".golden.png"), Overlay(r))
	}
}

// matches fails when a picture is not the golden one, and leaves it in the temporary folder to be looked at.
func matches(t *testing.T, golden string, got *image.RGBA) {
	t.Helper()
	if *regen {
		require.NoError(t, score.WritePNG(golden, got))
	}
	file, err := os.Open(golden)
	require.NoError(t, err)
	defer file.Close()
	want, err := png.Decode(file)
	require.NoError(t, err)
	require.Equal(t, want.Bounds(), got.Rect)
	different := 0
	for y := range got.Rect.Dy() {
		for x := range got.Rect.Dx() {
			if color.RGBAModel.Convert(want.At(x, y)) != got.At(x, y) {
				different++
			}
		}
	}
	if different > 0 {
		seen := filepath.Join(os.TempDir(), filepath.Base(golden)+".got.png")
		require.NoError(t, score.WritePNG(seen, got))
		t.Errorf("%s: %d pixels differ; see %s, or -regen to approve", golden, different, seen)
	}
}

func TestOverlayFitsPhotosOfAllSizes(t *testing.T) {
	for _, c := range []struct{ width, height, wantWidth, picture int }{
		{200, 160, minWidth, 160},
		{640, 480, 2*640 + between, 480},
		{480, 640, 2*480 + between, 640},
		{3200, 2400, 2*maxSide + between, 900},
	} {
		got := Overlay(valve(c.width, c.height)).Rect
		assert.Equal(t, c.wantWidth, got.Dx(), "%dx%d", c.width, c.height)
		assert.Greater(t, got.Dy(), c.picture+60, "the caption stands below the picture")
	}
}

func TestTintsOutlineAndHatching(t *testing.T) {
	r := valve(640, 480)
	whole := Overlay(r)
	grey := color.RGBA{metal, metal, metal, 255}
	for y := range 480 {
		for x := range 640 {
			require.Equal(t, grey, whole.RGBAAt(x, y), "on the left the photo as it is")
		}
	}
	got := image.NewRGBA(image.Rect(0, 0, 640, 480)) // what stands beside it
	draw.Draw(got, got.Rect, whole, image.Pt(640+between, 0), draw.Src)
	assert.Equal(t, grey, got.RGBAAt(10, 470), "background is the photo itself")

	for x, want := range map[int]tint{185: tints[0], 270: tints[1], 370: tints[2], 455: tints[3]} {
		mixed := blend(grey, want.colour, want.alpha)
		pixel := got.RGBAAt(x, 288)
		// One level: the overlay mixes in steps of 1/256.
		assert.InDelta(t, mixed.R, pixel.R, 1, want.name)
		assert.InDelta(t, mixed.B, pixel.B, 1, want.name)
	}
	line, unhatched := 0, 0
	for x := 150; x < 175; x++ { // the head's left edge is at 160
		if got.RGBAAt(x, 288) == outlineCore {
			line++
		}
	}
	assert.Positive(t, line, "the outline crosses the head's edge")
	for x := 310; x < 322; x++ { // the unreadable spot in the middle: two periods of hatching
		if got.RGBAAt(x, 288) == grey {
			unhatched++
		}
	}
	assert.Equal(t, 8, unhatched, "four of six pixels show the photo between the lines")
}

func TestRefusedPhotoIsShownAsItIs(t *testing.T) {
	r := valve(640, 480)
	r.Status, r.Grade = score.Refused, nil
	got := Overlay(r)
	for _, at := range []image.Point{{10, 10}, {160, 288}, {320, 288}} {
		assert.Equal(t, color.RGBA{metal, metal, metal, 255}, got.RGBAAt(at.X, at.Y))
	}
}

func TestFileWithoutAPictureGetsACaption(t *testing.T) {
	r := &score.Result{Name: "notes.jpg", Status: score.Refused, Reasons: []reason.Reason{reason.Of(reason.NotAnImage)}}
	got := Overlay(r)
	assert.Equal(t, minWidth, got.Rect.Dx())
	assert.Positive(t, got.Rect.Dy())
}

func TestAccentsThatStandApartAreDrawnOntoTheirLetters(t *testing.T) {
	captioned := func(name string) *image.RGBA { return Overlay(&score.Result{Name: name, Version: "1"}) }
	assert.Equal(t, captioned("\u00e9.jpg").Pix, captioned("e\u0301.jpg").Pix)
	assert.NotEqual(t, captioned("e.jpg").Pix, captioned("e\u0301.jpg").Pix)
}

func TestCaptionGrowsWithItsReasons(t *testing.T) {
	r := valve(640, 480)
	r.Reasons = nil
	none := caption([]*score.Result{r}, 640, false).Rect.Dy()
	r.Reasons = []reason.Reason{reason.Of(reason.Glare), reason.Of(reason.LowConfidence)}
	assert.Greater(t, caption([]*score.Result{r}, 640, false).Rect.Dy(), none)
}

func TestOutlineByHandIsCalledSo(t *testing.T) {
	r := valve(640, 480)
	found := caption([]*score.Result{r}, 640, false)
	r.Region.Source = region.ByHand
	assert.NotEqual(t, found.Pix, caption([]*score.Result{r}, 640, false).Pix)
}

func TestEveryGradeCanBeReadOnItsPlate(t *testing.T) {
	for value := range 5 {
		plate := ramp.Grade(value)
		digit := contrasting(plate)
		light := func(c color.RGBA) int { return int(color.GrayModel.Convert(c).(color.Gray).Y) }
		assert.Greater(t, max(light(plate), light(digit))-min(light(plate), light(digit)), 80, "grade %d", value)
	}
}

func BenchmarkOverlay640(b *testing.B) {
	r := valve(640, 480)
	for b.Loop() {
		Overlay(r)
	}
}

func TestTintsDifferOnAValveInTheDark(t *testing.T) {
	const dim = 12
	r := valve(640, 480)
	for i := range r.Photo.Pixels.Pix {
		if i%4 != 3 {
			r.Photo.Pixels.Pix[i] = dim
		}
	}
	got := Marked(r)
	assert.Equal(t, color.RGBA{dim, dim, dim, 255}, got.RGBAAt(10, 470), "what is not valve stays as it is")
	bare, heavy := got.RGBAAt(185, 288), got.RGBAAt(455, 288)
	assert.Greater(t, bare.G, heavy.G+30)
	assert.NotEqual(t, caption([]*score.Result{r}, 640, true).Pix, caption([]*score.Result{r}, 640, false).Pix)

	_, brightened := mark([]*score.Result{valve(640, 480)})
	assert.False(t, brightened, "a valve in the light stays as the photo shows it")
}
