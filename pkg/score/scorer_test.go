package score

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"valvegrade/pkg/deposit"
	"valvegrade/pkg/photo"
	"valvegrade/pkg/reason"
	"valvegrade/pkg/region"
)

const demoPhoto = "../../testdata/engine/cyl1-valve1-before.jpg"

// head is a disc in the middle of the demo photo.
var head = region.Ellipse{X: 320, Y: 240, A: 150, B: 120}

func newScorer(t *testing.T, o Options) *Scorer {
	t.Helper()
	s, err := New(o)
	require.NoError(t, err)
	t.Cleanup(s.Close)
	return s
}

// beside copies the demo photo into a folder of its own, next to a marks file with the text.
func beside(t *testing.T, marks string) string {
	t.Helper()
	data, err := os.ReadFile(demoPhoto)
	require.NoError(t, err)
	path := filepath.Join(t.TempDir(), "photo.jpg")
	require.NoError(t, os.WriteFile(path, data, 0o600))
	require.NoError(t, os.WriteFile(region.MarksPath(path), []byte(marks), 0o600))
	return path
}

func TestScoredPhotoKeepsTheContract(t *testing.T) {
	r := only(t, newScorer(t, Options{Program: "1.2.3"}).Score(demoPhoto))
	require.Equal(t, Scored, r.Status, r.Reasons)
	assert.NoError(t, validate(t, written(t, document(r))))
	assert.Equal(t, "cyl1-valve1-before", r.Label)
	assert.Regexp(t, `^1\.2\.3\+net\.[0-9a-f]{12}$`, r.Version)
	assert.NotNil(t, r.Taken, "the demo photos carry a capture time")
	assert.LessOrEqual(t, r.Deposit.Both.Index.Low, r.Deposit.Both.Index.Value)
	assert.LessOrEqual(t, r.Deposit.Both.Index.Value, r.Deposit.Both.Index.High)
}

// Anyone can count the deposit mask and find the index of the result.
func TestIndexCanBeCountedInTheMask(t *testing.T) {
	r := only(t, newScorer(t, Options{}).Score(demoPhoto))
	require.Equal(t, Scored, r.Status, r.Reasons)
	var count [256]float64
	for _, class := range r.Deposit.Map.Pix {
		count[class]++
	}
	bare, film, medium, heavy := count[deposit.Bare], count[deposit.Film], count[deposit.Medium], count[deposit.Heavy]
	readable := bare + film + medium + heavy
	// 0.005: half of the last decimal that is written.
	assert.InDelta(t, 100*(heavy+0.5*medium+0.25*film)/readable, r.Record().Index.Value(), 0.005)
	assert.InDelta(t, 100*(heavy+medium+film)/readable, r.Record().Coverage.Value(), 0.005)
	assert.Equal(t, r.Region.HeadPixels+r.Region.StemPixels, int(readable+count[deposit.Unreadable]))
}

func TestSameBytesSameResultFromFileAndMemory(t *testing.T) {
	s := newScorer(t, Options{})
	data, err := os.ReadFile(demoPhoto)
	require.NoError(t, err)
	first := written(t, document(only(t, s.Score(demoPhoto))))
	assert.Equal(t, string(first), string(written(t, document(only(t, s.ScoreBytes(demoPhoto, data, nil))))))
	assert.Equal(t, string(first), string(written(t, document(only(t, newScorer(t, Options{}).Score(demoPhoto))))))
}

func TestMarksOfOptionsAndOfTheFileBesideGiveTheSameOutline(t *testing.T) {
	byOptions := only(t, newScorer(t, Options{Marks: &region.Marks{Head: head}}).Score(demoPhoto))
	const text = "head: {centre: [320, 240], axes: [150, 120], angle: 0}\n"
	path := beside(t, text)
	data, err := os.ReadFile(path)
	require.NoError(t, err)
	byFile := only(t, newScorer(t, Options{}).Score(path))
	inMemory := only(t, newScorer(t, Options{}).ScoreBytes("photo", data, []byte(text)))
	require.NotNil(t, byOptions.Region)
	for _, r := range []*Result{byFile, inMemory} {
		require.NotNil(t, r.Region)
		assert.Equal(t, region.ByHand, r.Region.Source)
		assert.Equal(t, byOptions.Region.Mask.Pix, r.Region.Mask.Pix)
	}
}

func TestMarksThatCannotBeUsedRefuseThePhoto(t *testing.T) {
	outside := only(
		t,
		newScorer(
			t,
			Options{Marks: &region.Marks{Head: region.Ellipse{X: 9000, Y: 9000, A: 50, B: 50}}},
		).Score(demoPhoto),
	)
	broken := only(t, newScorer(t, Options{}).Score(beside(t, "head: 7\n")))
	data, err := os.ReadFile(demoPhoto)
	require.NoError(t, err)
	inMemory := only(t, newScorer(t, Options{}).ScoreBytes("photo", data, []byte("head: 7\n")))
	for _, r := range []*Result{outside, broken, inMemory} {
		assert.Equal(t, Refused, r.Status)
		require.Len(t, r.Reasons, 1)
		assert.Equal(t, reason.BadMarks, r.Reasons[0].Code)
		assert.NotNil(t, r.Photo, "the picture is known and can be shown")
	}
	assert.Regexp(t, "^line 1: ", inMemory.Reasons[0].Advice, "of marks without a file no name is told")
}

func TestLimitsReachTheDecoder(t *testing.T) {
	r := only(t, newScorer(t, Options{Limits: photo.Limits{MaxPixels: 1000}}).Score(demoPhoto))
	require.Len(t, r.Reasons, 1)
	assert.Equal(t, reason.TooManyPixels, r.Reasons[0].Code)
	assert.Nil(t, r.Grade)
}
