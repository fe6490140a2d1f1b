package photo

import (
	"bytes"
	"image"
	"image/color"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"valvegrade/internal/jpegframe"
	"valvegrade/internal/limit"
)

// withScans repeats the last scan of a progressive JPEG, which changes nothing in the picture but its cost.
func withScans(t testing.TB, more int) []byte {
	data := fixture(t, "progressive.jpg")
	last, end := bytes.LastIndex(data, []byte{0xff, 0xda}), len(data)-2
	return append(append(data[:end:end], bytes.Repeat(data[last:end], more)...), 0xff, 0xd9)
}

func TestScansOfAJPEG(t *testing.T) {
	own := jpegframe.Read(fixture(t, "progressive.jpg"))
	assert.True(t, own.Progressive)
	assert.Equal(t, own.Scans+7, jpegframe.Read(withScans(t, 7)).Scans)
	_, err := Decode("few", withScans(t, 7), Limits{})
	assert.NoError(t, err)
	_, err = Decode("many", withScans(t, limit.PhotoScans), Limits{})
	require.ErrorIs(t, err, ErrTooSlow)
	assert.Contains(t, ReasonFor(err).Advice, "scans, the limit is 100")
}

func TestDecodingEndsAfterItsTime(t *testing.T) {
	for name, data := range map[string][]byte{
		"jpeg": asJPEG(t, quadrants()), "progressive": fixture(t, "progressive.jpg"), "png": asPNG(t, quadrants()), "tiff": fixture(t, "still.tiff"),
		"bmp": fixture(t, "palette.bmp"), "webp": fixture(t, "still.webp"), "gif": asGIF(t, 1), "heic": fixture(t, "still.heic"),
	} {
		_, err := Decode(name, data, Limits{MaxTime: time.Nanosecond}) // over before it begins, on any machine
		require.ErrorIs(t, err, ErrTooSlow, name)
		assert.Contains(t, ReasonFor(err).Advice, "takes more than 1ns of the processor")
	}
}

func TestDecoderIsStoppedWhileItReads(t *testing.T) {
	s, stop := newSource(make([]byte, 10*piece), time.Hour)
	n, err := s.Read(make([]byte, 10*piece))
	require.NoError(t, err)
	assert.Equal(t, piece, n, "a little at a time")
	stop()
	_, err = s.Read(make([]byte, 1))
	assert.Error(t, err)
	_, err = s.ReadAt(make([]byte, 1), 0)
	assert.Error(t, err)
}

func TestCostOfDecoding(t *testing.T) {
	frame := func(kind byte, factors ...byte) []byte {
		body := []byte{8, 0, 160, 0, 168, byte(len(factors))}
		for i, f := range factors {
			body = append(body, byte(i+1), f, 0)
		}
		return withSegment([]byte{0xff, 0xd8}, kind, body)
	}
	ycc := image.Config{ColorModel: color.YCbCrModel}
	for name, c := range map[string]struct {
		want, got float64
	}{
		"grey JPEG":              {1, jpegCost(frame(0xc0, 0x11), image.Config{ColorModel: color.GrayModel})},
		"4:2:0":                  {1.5, jpegCost(frame(0xc0, 0x22, 0x11, 0x11), ycc)},
		"4:4:4":                  {3, jpegCost(frame(0xc0, 0x11, 0x11, 0x11), ycc)},
		"progressive 4:2:0":      {7.5, jpegCost(frame(0xc2, 0x22, 0x11, 0x11), ycc)},
		"progressive with black": {24, jpegCost(frame(0xc2, 0x11, 0x11, 0x11, 0x11), image.Config{ColorModel: color.CMYKModel})},
		"no frame":               {4, jpegCost([]byte{0xff, 0xd8}, ycc)},
		"PNG":                    {4, withPasses(asPNG(t, quadrants()), image.Config{ColorModel: color.NRGBAModel})},
		"PNG of 16 bits":         {8, withPasses(nil, image.Config{ColorModel: color.NRGBA64Model})},
		"interlaced":             {6, withPasses(append(make([]byte, 28), 1), image.Config{ColorModel: color.RGBAModel})},
		"TIFF":                   {8, withStrips(nil, image.Config{ColorModel: color.RGBAModel})},
		"palette":                {1, onePicture(nil, image.Config{ColorModel: color.Palette{}})},
		"WebP without loss":      {8, webpCost(nil, image.Config{ColorModel: color.NRGBAModel})},
	} {
		assert.Equal(t, c.want, c.got, name)
	}
	_, err := Decode("costly", asPNG(t, quadrants()), Limits{MaxMemory: 4 * 2 * fieldW * 2 * fieldH})
	require.ErrorIs(t, err, ErrTooLarge, "picture and file together")
	assert.Contains(t, ReasonFor(err).Advice, "of this kind of png takes")
}

func TestLargePhotosAreShrunkOnReading(t *testing.T) {
	size := image.Pt(2*fieldW, 2*fieldH)
	data := withEXIF(asJPEG(t, quadrants()), 6, "")
	whole, err := Decode("whole", data, Limits{KeptPixels: size.X * size.Y})
	require.NoError(t, err)
	assert.Equal(t, 1, whole.Shrunk)
	p, err := Decode("shrunk", data, Limits{KeptPixels: size.X*size.Y - 1})
	require.NoError(t, err)
	assert.Equal(t, 2, p.Shrunk)
	assert.Equal(t, image.Pt(size.Y, size.X), p.Whole, "upright: turned by a quarter")
	assert.Equal(t, image.Rect(0, 0, fieldH, fieldW), p.Pixels.Rect)
	for y := range p.Height {
		for x := range p.Width {
			mean := 0
			for _, at := range []image.Point{{}, {X: 1}, {Y: 1}, {X: 1, Y: 1}} {
				mean += int(whole.Pixels.NRGBAAt(2*x+at.X, 2*y+at.Y).G)
			}
			require.Equal(t, uint8((mean+2)/4), p.Pixels.NRGBAAt(x, y).G)
		}
	}
	glass := image.NewNRGBA(image.Rect(0, 0, 320, 320)) // black, seen through
	p, err = Decode("glass", asPNG(t, glass), Limits{KeptPixels: 1000})
	require.NoError(t, err)
	assert.Equal(t, color.NRGBA{0, 0, 0, 255}, p.Pixels.NRGBAAt(5, 5))
}
