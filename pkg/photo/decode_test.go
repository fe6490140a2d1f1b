package photo

import (
	"crypto/sha256"
	"fmt"
	"image"
	"image/color"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"valvegrade/internal/limit"
	"valvegrade/pkg/reason"
)

// near compares colours; lossy formats move the middle of a flat field by a few codes.
func near(t *testing.T, want color.NRGBA, got color.NRGBA, delta float64) {
	t.Helper()
	assert.InDelta(t, want.R, got.R, delta, "red")
	assert.InDelta(t, want.G, got.G, delta, "green")
	assert.InDelta(t, want.B, got.B, delta, "blue")
	assert.EqualValues(t, 255, got.A, "alpha")
}

func middle(p *Photo, field int) color.NRGBA {
	return p.Pixels.NRGBAAt(p.Width/4+field%2*p.Width/2, p.Height/4+field/2*p.Height/2)
}

func TestDecodeFormats(t *testing.T) {
	cases := []struct {
		name, format string
		data         []byte
		delta        float64
	}{
		{"baseline", "jpeg", asJPEG(t, quadrants()), 4},
		{"progressive", "jpeg", fixture(t, "progressive.jpg"), 4},
		{"CMYK", "jpeg", fixture(t, "cmyk.jpg"), 8},
		{"PNG", "png", asPNG(t, quadrants()), 0},
		{"16 bit PNG", "png", fixture(t, "deep.png"), 0},
		{"TIFF", "tiff", fixture(t, "still.tiff"), 0},
		{"paletted BMP", "bmp", fixture(t, "palette.bmp"), 0},
		{"WebP", "webp", fixture(t, "still.webp"), 0},
		{"HEIC", "heic", fixture(t, "still.heic"), 8},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			p, err := Decode("valve", c.data, Limits{})
			require.NoError(t, err)
			assert.Equal(t, c.format, p.Format)
			assert.Equal(t, "valve", p.Name)
			assert.Equal(t, fmt.Sprintf("%x", sha256.Sum256(c.data)), p.SHA256)
			assert.Equal(t, image.Rect(0, 0, 2*fieldW, 2*fieldH), p.Pixels.Rect)
			assert.Equal(t, 4*p.Width, p.Pixels.Stride)
			assert.Nil(t, p.Taken)
			for i, want := range fields {
				near(t, want, middle(p, i), c.delta)
			}
		})
	}
}

func TestDecodeGreyAndStillGIF(t *testing.T) {
	p, err := Decode("grey", fixture(t, "gray.jpg"), Limits{})
	require.NoError(t, err)
	c := middle(p, 0)
	assert.True(t, c.R == c.G && c.G == c.B, "grey stays grey: %v", c)

	p, err = Decode("still", asGIF(t, 1), Limits{})
	require.NoError(t, err)
	assert.Equal(t, "gif", p.Format)
}

func TestDecodeTurnsAllOrientationsUpright(t *testing.T) {
	// For each EXIF value: which stored field is seen at each place, in reading order, once the picture is upright.
	// CIPA DC-008: value 6 means that stored row 0 is the right side and column 0 the top.
	seen := map[uint16][4]int{
		1: {0, 1, 2, 3}, 2: {1, 0, 3, 2}, 3: {3, 2, 1, 0}, 4: {2, 3, 0, 1},
		5: {0, 2, 1, 3}, 6: {2, 0, 3, 1}, 7: {3, 1, 2, 0}, 8: {1, 3, 0, 2},
		0: {0, 1, 2, 3}, 9: {0, 1, 2, 3}, // not in the standard: left alone
	}
	for orientation, order := range seen {
		t.Run(fmt.Sprint(orientation), func(t *testing.T) {
			p, err := Decode("turned", withEXIF(asJPEG(t, quadrants()), orientation, ""), Limits{})
			require.NoError(t, err)
			if orientation >= 5 && orientation <= 8 {
				assert.Equal(t, []int{2 * fieldH, 2 * fieldW}, []int{p.Width, p.Height})
			}
			assert.Equal(t, 4*p.Width, p.Pixels.Stride)
			for i, field := range order {
				near(t, fields[field], middle(p, i), 4)
			}
		})
	}
}

func TestDecodeCaptureTime(t *testing.T) {
	data := asJPEG(t, quadrants())
	dated := withEXIF(data, 1, "2024:02:29 07:08:09")
	path := filepath.Join(t.TempDir(), "dated.jpg")
	require.NoError(t, os.WriteFile(path, dated, 0o644))
	assert.Equal(t, time.Date(2024, 2, 29, 7, 8, 9, 0, time.UTC), *TakenOf(path))
	assert.Nil(t, TakenOf(path+".none"))
	p, err := Decode("dated", dated, Limits{})
	require.NoError(t, err)
	require.NotNil(t, p.Taken)
	assert.Equal(t, time.Date(2024, 2, 29, 7, 8, 9, 0, time.UTC), *p.Taken)
	for _, unset := range []string{"", "0000:00:00 00:00:00", "2023:02:29 00:00:00", "yesterday"} {
		p, err = Decode("undated", withEXIF(data, 1, unset), Limits{})
		require.NoError(t, err)
		assert.Nil(t, p.Taken, unset)
	}
}

func TestDecodeNotesProfile(t *testing.T) {
	data := asJPEG(t, quadrants())
	p, err := Decode("plain", data, Limits{})
	require.NoError(t, err)
	assert.False(t, p.Profile)
	p, err = Decode("profile", withSegment(data, 0xe2, []byte("ICC_PROFILE\x00\x01\x01....")), Limits{})
	require.NoError(t, err)
	assert.True(t, p.Profile)
}

func TestDecodeLaysTransparencyOverBlack(t *testing.T) {
	img := image.NewNRGBA(image.Rect(0, 0, 200, 200))
	for i := range 200 * 200 {
		img.SetNRGBA(i%200, i/200, color.NRGBA{200, 100, 50, 128})
	}
	p, err := Decode("glass", asPNG(t, img), Limits{})
	require.NoError(t, err)
	near(t, color.NRGBA{100, 50, 25, 255}, p.Pixels.NRGBAAt(100, 100), 1) // 128/255 is not quite a half
}

func TestFlattenColourMissingFromPalette(t *testing.T) {
	// The imaging library dies in a goroutine of its own over such an index: CVE-2023-36308.
	img := image.NewPaletted(image.Rect(5, 5, 7, 6), color.Palette{color.White})
	img.SetColorIndex(6, 5, 200)
	flat := flatten(img, 1)
	assert.Equal(t, []byte{255, 255, 255, 255, 0, 0, 0, 255}, flat.Pix)
	assert.Equal(t, image.Rect(0, 0, 2, 1), flat.Rect)
}

// bad are the files that must be refused; they seed the fuzzer too.
func bad(t testing.TB) []badFile {
	whole := asJPEG(t, quadrants())
	return []badFile{
		{"empty", nil, ErrNotImage, reason.NotAnImage, "empty"},
		{"text named .jpg", []byte("this is no photo\n"), ErrNotImage, reason.NotAnImage, "known image format"},
		{"only a magic", []byte("\xff\xd8\xff"), ErrTruncated, reason.Truncated, "jpeg"},
		{"half a JPEG", whole[:len(whole)/2], ErrTruncated, reason.Truncated, "cut short"},
		{"half a PNG", asPNG(t, quadrants())[:200], ErrTruncated, reason.Truncated, "cut short"},
		{"half a TIFF", fixture(t, "still.tiff")[:300], ErrTruncated, reason.Truncated, "tiff"},
		{"half a WebP", fixture(t, "still.webp")[:60], ErrTruncated, reason.Truncated, "webp"},
		{"half a HEIC", fixture(t, "still.heic")[:400], ErrTruncated, reason.Truncated, "heic"},
		{
			"10000 x 10000 header",
			pngHeader(10000, 10000),
			ErrTooManyPixels,
			reason.TooManyPixels,
			"10000 x 10000 pixels, the limit is 64 million",
		},
		{ // no option lets it in, so none is named
			"40000 x 40000 header",
			pngHeader(40000, 40000),
			ErrTooLarge,
			reason.TooLarge,
			"40000 x 40000 pixels, the limit is 16384 a side",
		},
		{
			"400000 x 160 header",
			pngHeader(400000, 160),
			ErrTooLarge,
			reason.TooLarge,
			"400000 x 160 pixels, the limit is 16384 a side",
		},
		{"101 scans more", withScans(t, limit.PhotoScans+1), ErrTooSlow, reason.TooSlow, "scans, the limit is 100"},
		{"no rows", pngHeader(500, 0), ErrTruncated, reason.Truncated, "png"},
		{"1x1", asPNG(t, image.NewNRGBA(image.Rect(0, 0, 1, 1))), ErrTooSmall, reason.TooSmall, "1 x 1"},
		{"thumbnail", asPNG(t, image.NewNRGBA(image.Rect(0, 0, 400, 159))), ErrTooSmall, reason.TooSmall, "400 x 159"},
		{"animated GIF", asGIF(t, 3), ErrUnsupported, reason.Unsupported, "animation"},
		{"animated PNG", animatedPNG(t), ErrUnsupported, reason.Unsupported, "animation"},
		{"animated WebP", fixture(t, "moving.webp"), ErrUnsupported, reason.Unsupported, "animation"},
		{"AVIF", fixture(t, "still.avif"), ErrUnsupported, reason.Unsupported, "AVIF"},
		{"camera raw", []byte("II*\x00\x10\x00\x00\x00CR\x02\x00"), ErrUnsupported, reason.Unsupported, "raw"},
		{"document", []byte("%PDF-1.7\n"), ErrUnsupported, reason.Unsupported, "PDF"},
	}
}

type badFile struct {
	name string
	data []byte
	kind error
	code reason.Code
	says string
}

func TestDecodeRefuses(t *testing.T) {
	for _, c := range bad(t) {
		t.Run(c.name, func(t *testing.T) {
			p, err := Decode("valve 1.jpg", c.data, Limits{})
			assert.Nil(t, p)
			require.ErrorIs(t, err, c.kind)
			assert.Contains(t, err.Error(), `"valve 1.jpg"`)
			why := ReasonFor(err)
			assert.Equal(t, c.code, why.Code)
			assert.Contains(t, why.Advice, c.says)
		})
	}
}

func TestDecodeLimitsCanBeSet(t *testing.T) {
	data := asPNG(t, quadrants())
	_, err := Decode("p", data, Limits{MaxPixels: 4*fieldW*fieldH - 1})
	assert.ErrorIs(t, err, ErrTooManyPixels)
	_, err = Decode("p", data, Limits{MaxPixels: 4 * fieldW * fieldH})
	assert.NoError(t, err)
	_, err = Decode("p", data, Limits{MaxBytes: int64(len(data)) - 1})
	assert.ErrorIs(t, err, ErrTooLarge)
	_, err = Decode("p", data, Limits{MinSide: 2*fieldH + 1})
	assert.ErrorIs(t, err, ErrTooSmall)
}

func TestReasonForForeignError(t *testing.T) {
	assert.Equal(t, reason.Failed, ReasonFor(assert.AnError).Code)
	assert.Equal(t, reason.Of(reason.TooLarge), ReasonFor(fmt.Errorf("elsewhere: %w", ErrTooLarge)))
}

// HEIC is left out: compiling its decoder takes seconds under the fuzzer, and it runs in a machine of its own.
// scripts/attack.sh feeds it.
func FuzzDecode(f *testing.F) {
	for _, c := range bad(f) {
		if !isHEIC(c.data) {
			f.Add(c.data)
		}
	}
	for _, name := range []string{"progressive.jpg", "cmyk.jpg", "gray.jpg", "deep.png", "still.tiff", "palette.bmp", "still.webp"} {
		f.Add(fixture(f, name))
	}
	f.Add(withEXIF(asJPEG(f, quadrants()), 6, "2024:02:29 07:08:09"))
	// A small limit keeps a header that lies within it from filling memory once per input.
	limits := Limits{MaxBytes: 1 << 20, MaxPixels: 1 << 20}
	f.Fuzz(func(t *testing.T, data []byte) {
		if isHEIC(data) {
			return
		}
		p, err := Decode("fuzz", data, limits)
		if err != nil {
			if ReasonFor(err).Code == reason.Failed || strings.Contains(err.Error(), "runtime error: makeslice") {
				t.Fatalf("an error without a reason: %v", err)
			}
			return
		}
		if p.Width*p.Height > limits.MaxPixels || len(p.Pixels.Pix) != 4*p.Width*p.Height ||
			min(p.Width, p.Height) < limit.PhotoShortSide {
			t.Fatalf("%d x %d with %d bytes", p.Width, p.Height, len(p.Pixels.Pix))
		}
		Assess(p, nil)
	})
}
