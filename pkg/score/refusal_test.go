package score_test

import (
	"bytes"
	"image"
	"image/color"
	"image/jpeg"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"

	"github.com/disintegration/imaging"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"valvegrade/pkg/reason"
	"valvegrade/pkg/score"
)

func newTestScorer(t *testing.T) *score.Scorer {
	t.Helper()
	s, err := score.New(score.Options{})
	require.NoError(t, err)
	t.Cleanup(s.Close)
	return s
}

// only returns the one result of a photo.
func only(t *testing.T, valves []*score.Result) *score.Result {
	t.Helper()
	require.Len(t, valves, 1)
	return valves[0]
}

func codesOf(r *score.Result) []reason.Code {
	var codes []reason.Code
	for _, found := range r.Reasons {
		codes = append(codes, found.Code)
	}
	return codes
}

// Six pictures that are free for every use; testdata/ordinary/SOURCES.txt names their origins. None was trained on.
func TestOrdinaryPicturesShowNoValve(t *testing.T) {
	files, err := filepath.Glob("../../testdata/ordinary/*.jpg")
	require.NoError(t, err)
	require.Len(t, files, 6)
	s := newTestScorer(t)
	for _, file := range files {
		r := only(t, s.Score(file))
		assert.Equal(t, score.Refused, r.Status, file)
		assert.Equal(t, []reason.Code{reason.NoValve}, codesOf(r), file)
	}
}

// A good photo of the demo engine, spoiled in linear light as cameras spoil photos.
func TestSpoiledPhotosAreRefusedForWhatSpoiledThem(t *testing.T) {
	file, err := os.Open("../../testdata/engine/cyl1-valve2-before.jpg")
	require.NoError(t, err)
	defer file.Close()
	decoded, err := jpeg.Decode(file)
	require.NoError(t, err)
	photo := imaging.Clone(decoded)
	random := rand.New(rand.NewPCG(1, 1))
	noisy := func(gain float64) *image.NRGBA {
		return developed(photo, func(v float64) float64 { return gain*v + 0.0005*random.NormFloat64() })
	}
	s := newTestScorer(t)
	assert.Equal(t, score.Scored, only(t, s.ScoreBytes("good.jpg", encoded(t, noisy(1)), nil)).Status)
	for want, spoiled := range map[reason.Code]*image.NRGBA{
		reason.TooDark:   noisy(0.004),
		reason.TooBright: noisy(60),
		reason.Blurred:   imaging.Blur(photo, 14),
		reason.Moving:    smeared(photo, 80),
	} {
		r := only(t, s.ScoreBytes(string(want)+".jpg", encoded(t, spoiled), nil))
		assert.Equal(t, score.Refused, r.Status, want)
		assert.Contains(t, codesOf(r), want)
		assert.NotContains(t, codesOf(r), reason.NoValve, want)
	}
}

// developed changes the linear light of every channel; gamma 2.2 stands for the display's curve.
func developed(photo *image.NRGBA, change func(float64) float64) *image.NRGBA {
	out := imaging.Clone(photo)
	for i, code := range out.Pix {
		if i%4 < 3 {
			light := change(math.Pow(float64(code)/255, 2.2))
			out.Pix[i] = uint8(math.Round(255 * math.Pow(min(1, max(0, light)), 1/2.2)))
		}
	}
	return out
}

// smeared averages over this many pixels along each row, as a sideways movement does.
func smeared(photo *image.NRGBA, length int) *image.NRGBA {
	out := image.NewNRGBA(photo.Rect)
	width, height := photo.Rect.Dx(), photo.Rect.Dy()
	for y := range height {
		for x := range width {
			var sum [3]int
			for k := range length {
				c := photo.NRGBAAt(min(width-1, max(0, x+k-length/2)), y)
				sum[0], sum[1], sum[2] = sum[0]+int(c.R), sum[1]+int(c.G), sum[2]+int(c.B)
			}
			out.SetNRGBA(x, y, color.NRGBA{uint8(sum[0] / length), uint8(sum[1] / length), uint8(sum[2] / length), 255})
		}
	}
	return out
}

func encoded(t *testing.T, picture image.Image) []byte {
	t.Helper()
	var out bytes.Buffer
	require.NoError(t, jpeg.Encode(&out, picture, &jpeg.Options{Quality: 90}))
	return out.Bytes()
}
