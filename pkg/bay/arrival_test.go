package bay

import (
	"bytes"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"valvegrade/internal/limit"
	"valvegrade/pkg/inspection"
	"valvegrade/pkg/score"
)

// What the scope writes into the folder is graded once it is whole, never before.
func TestAFileIsGradedOnceItIsWhole(t *testing.T) {
	dir := t.TempDir()
	_, j := open(t, dir)
	photo := demo(t, "cyl1-valve1-before.jpg")
	file, err := os.Create(filepath.Join(dir, "IMG_0001.JPG"))
	require.NoError(t, err)
	_, err = file.Write(photo[:len(photo)/2])
	require.NoError(t, err)
	until(t, j, func(s *Sheet) bool { return len(s.Shots) == 1 })
	time.Sleep(400 * time.Millisecond)
	for _, shot := range j.Sheet().Shots {
		assert.Contains(t, []string{"arriving", "reading"}, shot.State, "half a photo is no refused one")
	}
	_, err = file.Write(photo[len(photo)/2:])
	require.NoError(t, err)
	require.NoError(t, file.Close())
	s := read(t, j, 1)
	assert.Equal(t, "good", s.Shots[0].State)
	assert.True(t, s.Shots[0].Arrived)
	assert.Equal(t, gradeOf(t, "cyl1-valve1-before.jpg"), *s.Shots[0].Seen[0].Grade)
	small, err := j.Picture("IMG_0001.JPG", Small)
	require.NoError(t, err)
	assert.NotEmpty(t, small)
}

// What is there keeps its place while others arrive, and one whose outline is set anew keeps its own.
func TestOrderStandsWhilePhotosArrive(t *testing.T) {
	dir := t.TempDir()
	_, j := open(t, dir)
	changes, end := j.Listen()
	defer end()
	var seen [][]string
	look := func(s *Sheet) {
		files := []string{}
		for _, shot := range s.Shots {
			files = append(files, shot.File)
		}
		seen = append(seen, files)
	}
	names := []string{"cyl1-valve1-before.jpg", "cyl1-valve2-before.jpg", "cyl2-valve1-before.jpg", "cyl2-valve2-before.jpg"}
	for n, name := range names { // their clocks tell another order than their names do
		putDemo(t, dir, "IMG_"+string(rune('9'-n))+".jpg", name)
		for s := j.Sheet(); len(s.Shots) <= n || s.Reading > 0; s = j.Sheet() {
			look(s)
			<-changes
		}
	}
	require.NoError(t, j.SetMarks("IMG_9.jpg", Outline{Head: &Ellipse{X: 300, Y: 240, A: 150, B: 120}}))
	look(j.Sheet())
	want := seen[len(seen)-1]
	assert.Len(t, want, len(names))
	for _, files := range seen {
		assert.Equal(t, want[:len(files)], files)
	}
}

func TestAPhotoIsGoneWhenItsFileIs(t *testing.T) {
	dir := t.TempDir()
	putDemo(t, dir, "a.jpg", "cyl1-valve1-before.jpg")
	_, j := open(t, dir)
	read(t, j, 1)
	require.NoError(t, os.Remove(filepath.Join(dir, "a.jpg")))
	read(t, j, 0)
}

func TestPhotosThatAreBrought(t *testing.T) {
	dir := t.TempDir()
	_, j := open(t, dir)
	photo := demo(t, "cyl1-valve1-before.jpg")
	taken := time.Date(2026, 5, 1, 10, 0, 0, 0, time.Local)
	arrival, err := j.Bring("../../../etc/c2v1\x1b[2J.jpg", taken, bytes.NewReader(photo))
	require.NoError(t, err)
	assert.Equal(t, "c2v1__2J.jpg", arrival.File)
	info, err := os.Stat(filepath.Join(dir, arrival.File))
	require.NoError(t, err)
	assert.True(t, taken.Equal(info.ModTime()))
	read(t, j, 1)

	again, err := j.Bring("other.jpg", taken, bytes.NewReader(photo))
	require.NoError(t, err)
	assert.Equal(t, &Arrival{arrival.File, true}, again, "the same picture is kept once")

	other, err := j.Bring(arrival.File, time.Time{}, bytes.NewReader(demo(t, "cyl1-valve2-before.jpg")))
	require.NoError(t, err)
	assert.Equal(t, "c2v1__2J-2.jpg", other.File, "nothing is written over")
	read(t, j, 2)
}

func TestMovingAFileReplacesNone(t *testing.T) {
	dir := t.TempDir()
	path := func(name string) string { return filepath.Join(dir, name) }
	require.NoError(t, os.WriteFile(path("old"), []byte("old"), 0o600))
	require.NoError(t, os.WriteFile(path("new"), []byte("new"), 0o600))
	assert.ErrorIs(t, moveBeside(path("new"), path("old")), fs.ErrExist)
	require.NoError(t, moveBeside(path("new"), path("other")))
	for name, content := range map[string]string{"old": "old", "other": "new"} {
		kept, err := os.ReadFile(path(name))
		require.NoError(t, err)
		assert.Equal(t, content, string(kept))
	}
	assert.ErrorIs(t, moveBeside(path("gone"), path("third")), fs.ErrNotExist)
	entries, err := os.ReadDir(dir)
	require.NoError(t, err)
	assert.Len(t, entries, 2, "no name is held for nothing")
}

func TestWhatIsNoPhotoIsNotKept(t *testing.T) {
	dir := t.TempDir()
	_, j := open(t, dir)
	photo := demo(t, "cyl1-valve1-before.jpg")
	var refused *Refused
	for name, content := range map[string]io.Reader{
		"text":  strings.NewReader("vehicle: mine\n"),
		"empty": strings.NewReader(""),
		"half":  bytes.NewReader(photo[:len(photo)/3]),
		"bomb":  bytes.NewReader([]byte("\x89PNG\r\n\x1a\n\x00\x00\x00\rIHDR\x00\x00\x9c\x40\x00\x00\x9c\x40\x08\x02\x00\x00\x00")),
	} {
		_, err := j.Bring(name+".jpg", time.Time{}, content)
		assert.ErrorAs(t, err, &refused, name)
	}
	_, err := j.Bring("gone.jpg", time.Time{}, io.MultiReader(bytes.NewReader(photo[:1000]), &broken{}))
	assert.ErrorIs(t, err, io.ErrUnexpectedEOF, "a client that went away")
	_, err = j.Bring("endless.jpg", time.Time{}, io.LimitReader(zeros{}, limit.PhotoBytes+10))
	var large *limit.TooLarge
	assert.ErrorAs(t, err, &large)
	entries, err := os.ReadDir(dir)
	require.NoError(t, err)
	assert.Empty(t, entries, "nothing is left behind")
	assert.Empty(t, j.Sheet().Shots)
}

type broken struct{}

func (*broken) Read([]byte) (int, error) { return 0, io.ErrUnexpectedEOF }

type zeros struct{}

func (zeros) Read(p []byte) (int, error) { clear(p); return len(p), nil }

// The disk is full: nothing is changed, nothing is left, and it is said.
func TestAFullDisk(t *testing.T) {
	if _, err := os.Stat("/dev/full"); err != nil {
		t.Fatal("this test needs /dev/full")
	}
	dir := t.TempDir()
	putDemo(t, dir, "a.jpg", "cyl1-valve1-before.jpg")
	_, j := open(t, dir)
	read(t, j, 1)
	require.NoError(t, j.SetEngine(inspection.Layout{Cylinders: 4, Valves: 2}, nil))
	before, err := os.ReadFile(filepath.Join(dir, inspection.File))
	require.NoError(t, err)
	_, err = j.Bring("b.jpg", time.Time{}, fullReader{})
	assert.Error(t, err)
	after, err := os.ReadFile(filepath.Join(dir, inspection.File))
	require.NoError(t, err)
	assert.Equal(t, before, after)
	assert.Len(t, j.Sheet().Shots, 1)
}

// fullReader fails as a write to a full disk makes io.Copy fail.
type fullReader struct{}

func (fullReader) Read(p []byte) (int, error) {
	full, err := os.OpenFile("/dev/full", os.O_WRONLY, 0)
	if err != nil {
		return 0, err
	}
	defer full.Close()
	_, err = full.Write([]byte("x"))
	return 0, err
}

// Results that cannot be written are named by the file that they belong into, and not by what lay beside it for a moment.
func TestResultsThatCannotBeWrittenHaveTheirName(t *testing.T) {
	b, _ := open(t, t.TempDir())
	path := filepath.Join(t.TempDir(), "gone", Results)
	j := &Job{
		bay: b, dir: filepath.Dir(path), form: &inspection.Form{}, unsaved: true,
		shots: map[string]*shot{"a.jpg": {file: "a.jpg", records: []score.Record{{Photo: "a.jpg", Status: score.Refused}}}},
	}
	assert.EqualError(t, j.writeResults(), "write "+path+": no such file or directory")
}

// From the last byte written to the grade on the sheet, with warm nets.
func BenchmarkArrival(b *testing.B) {
	dir := b.TempDir()
	_, j := open(b, dir)
	putDemo(b, dir, "warm.jpg", "cyl1-valve1-before.jpg")
	read(b, j, 1)
	photo := demo(b, "cyl2-valve1-before.jpg")
	for b.Loop() {
		require.NoError(b, os.WriteFile(filepath.Join(dir, "x.jpg"), photo, 0o644))
		read(b, j, 2)
		b.StopTimer()
		require.NoError(b, os.Remove(filepath.Join(dir, "x.jpg")))
		read(b, j, 1)
		b.StartTimer()
	}
}
