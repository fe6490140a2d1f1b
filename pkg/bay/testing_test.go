package bay

import (
	"bytes"
	"image"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/disintegration/imaging"
	"github.com/stretchr/testify/require"

	"valvegrade/pkg/score"
)

// demo reads a photo of the demo engine.
func demo(t testing.TB, name string) []byte {
	t.Helper()
	data, err := os.ReadFile(filepath.Join("../../testdata/engine", name))
	require.NoError(t, err)
	return data
}

// gradeOf is what a photo of the demo engine is graded by itself, past the bay.
func gradeOf(t testing.TB, name string) int {
	t.Helper()
	scorer, err := score.New(score.Options{})
	require.NoError(t, err)
	defer scorer.Close()
	record := scorer.Score(filepath.Join("../../testdata/engine", name))[0].Record()
	require.NotNil(t, record.Grade)
	return *record.Grade
}

// put writes a photo of the demo engine into a folder.
func putDemo(t testing.TB, dir, as, name string) {
	t.Helper()
	require.NoError(t, os.MkdirAll(filepath.Dir(filepath.Join(dir, as)), 0o755))
	require.NoError(t, os.WriteFile(filepath.Join(dir, as), demo(t, name), 0o644))
}

// twoValves is a photo of two valves of the demo engine, as PNG.
func twoValves(t testing.TB) []byte {
	t.Helper()
	both := image.NewNRGBA(image.Rect(0, 0, 1280, 480))
	for n, name := range []string{"cyl3-valve1-before.jpg", "cyl3-valve2-before.jpg"} {
		half, err := imaging.Decode(bytes.NewReader(demo(t, name)))
		require.NoError(t, err)
		both = imaging.Paste(both, half, image.Pt(640*n, 0))
	}
	var data bytes.Buffer
	require.NoError(t, imaging.Encode(&data, both, imaging.PNG))
	return data.Bytes()
}

// open opens a folder as it is and returns its own inspection.
func open(t testing.TB, dir string) (*Bay, *Job) {
	t.Helper()
	b, err := Open(dir, Options{Workers: 1})
	require.NoError(t, err)
	t.Cleanup(func() { _ = b.Close() })
	j, err := b.Job(Here)
	require.NoError(t, err)
	return b, j
}

// until waits for the sheet to be as it should.
func until(t testing.TB, j *Job, right func(*Sheet) bool) *Sheet {
	t.Helper()
	changes, end := j.Listen()
	defer end()
	late := time.After(90 * time.Second)
	for {
		s := j.Sheet()
		if right(s) {
			return s
		}
		select {
		case <-changes:
		case <-late:
			require.FailNow(t, "the sheet never was as it should", "%+v", s)
		}
	}
}

// read waits until so many photos are graded.
func read(t testing.TB, j *Job, photos int) *Sheet {
	t.Helper()
	return until(t, j, func(s *Sheet) bool { return len(s.Shots) == photos && s.Reading == 0 })
}

func find(s *Sheet, file string) *Shot {
	for n := range s.Shots {
		if s.Shots[n].File == file {
			return &s.Shots[n]
		}
	}
	return nil
}
