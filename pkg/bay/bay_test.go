package bay

import (
	"bytes"
	"errors"
	"image/png"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"valvegrade/internal/limit"
	"valvegrade/pkg/engine"
	"valvegrade/pkg/inspection"
	"valvegrade/pkg/photo"
	"valvegrade/pkg/score"
)

func TestWhichValveAPhotoShows(t *testing.T) {
	dir := t.TempDir()
	for n, name := range []string{"cyl1-valve1-before.jpg", "cyl1-valve2-before.jpg", "cyl2-valve1-before.jpg", "cyl2-valve2-before.jpg"} {
		putDemo(t, dir, "IMG_"+string(rune('1'+n))+".jpg", name)
	}
	_, j := open(t, dir)
	read(t, j, 4)
	assert.ErrorIs(t, j.Assign([]string{"IMG_1.jpg"}, 1, []int{1}), ErrNoEngine)
	require.NoError(t, j.SetEngine(inspection.Layout{Cylinders: 2, Valves: 2}, nil))
	assert.Equal(t, "1.1", j.Sheet().Next)
	assert.ErrorIs(t, j.Assign([]string{"none.jpg"}, 1, []int{1}), ErrUnknown)
	assert.Error(t, j.Assign([]string{"IMG_1.jpg"}, 3, []int{1}))

	require.NoError(t, j.Assign([]string{"IMG_2.jpg", "IMG_3.jpg"}, 2, []int{1}))
	assert.Equal(t, []int{1}, find(j.Sheet(), "IMG_3.jpg").Valves)
	words, err := j.Undo()
	require.NoError(t, err)
	assert.Equal(t, "2 photos to cylinder 2 valve 1", words)
	assert.Empty(t, find(j.Sheet(), "IMG_3.jpg").Valves)

	require.NoError(t, j.AssignInOrder(nil, "", 1))
	s := j.Sheet()
	for n, want := range []string{"1.1", "1.2", "2.1", "2.2"} {
		assert.Equal(t, want, inspection.ValveName(s.Shots[n].Cylinder, s.Shots[n].Valves[0]))
	}
	assert.Empty(t, s.Next)
	assert.Equal(t, 4, *s.Cylinders[0].Grade, "the cylinder has the grade of its worst valve")
	_, err = j.Undo()
	require.NoError(t, err)
	require.NoError(t, j.AssignInOrder([]string{"IMG_1.jpg", "IMG_2.jpg"}, "2.2,1.1", 1))
	assert.Equal(t, 2, find(j.Sheet(), "IMG_1.jpg").Cylinder)
	assert.Error(t, j.AssignInOrder(nil, "1.1", 1), "two photos for one valve")
}

func TestNamesAndFoldersTellTheValve(t *testing.T) {
	dir := t.TempDir()
	putDemo(t, dir, "c1v1.jpg", "cyl1-valve1-before.jpg")
	putDemo(t, dir, "cyl2/valve2.jpg", "cyl2-valve2-before.jpg")
	_, j := open(t, dir)
	read(t, j, 2)
	require.NoError(t, j.AssignByNames(""))
	s := j.Sheet()
	assert.Equal(t, 2, s.Facts.Cylinders)
	assert.Equal(t, []int{2}, find(s, "cyl2/valve2.jpg").Valves)
}

// Two photos in the folder of a cylinder are its two valves, and not one of them twice; who takes the step back is told. Where
// a photo of the cylinder has its valve already, its place among the others tells nothing.
func TestPhotosInTheFolderOfACylinderAreItsValves(t *testing.T) {
	dir := t.TempDir()
	for _, place := range []string{"1-valve1", "1-valve2", "2-valve1", "2-valve2"} {
		putDemo(t, dir, "cyl"+place[:1]+"/IMG_"+place[7:]+".jpg", "cyl"+place+"-after.jpg")
	}
	_, j := open(t, dir)
	read(t, j, 4)
	require.NoError(t, j.SetEngine(inspection.Layout{Cylinders: 2, Valves: 2}, nil))
	require.NoError(t, j.Assign([]string{"cyl2/IMG_1.jpg"}, 2, []int{2}))
	require.NoError(t, j.AssignByNames(""))
	s := j.Sheet()
	assert.Equal(t, []int{1}, find(s, "cyl1/IMG_1.jpg").Valves)
	assert.Equal(t, []int{2}, find(s, "cyl1/IMG_2.jpg").Valves)
	assert.Equal(t, []int{2}, find(s, "cyl2/IMG_1.jpg").Valves)
	assert.Empty(t, find(s, "cyl2/IMG_2.jpg").Valves)
	said, err := j.Undo()
	require.NoError(t, err)
	assert.Equal(t, "2 photos by their names, 2 of them in order", said)
}

// A photo of a whole cylinder is given to all of its valves, and one valve to none where its name does not say which; the
// engine that somebody set stays as it is.
func TestNamesOfCylindersGoByWhatIsInView(t *testing.T) {
	dir := t.TempDir()
	putDemo(t, dir, "cyl1.jpg", "cyl2-valve1-before.jpg")
	putDemo(t, dir, "c9v1.jpg", "cyl1-valve1-before.jpg")
	require.NoError(t, os.WriteFile(filepath.Join(dir, "cyl2.png"), twoValves(t), 0o644))
	_, j := open(t, dir)
	require.Len(t, find(read(t, j, 3), "cyl2.png").Seen, 2)
	require.NoError(t, j.SetEngine(inspection.Layout{Cylinders: 4, Valves: 2}, nil))
	require.NoError(t, j.AssignByNames(""))
	s := j.Sheet()
	assert.Equal(t, []int{1, 2}, find(s, "cyl2.png").Valves)
	assert.Empty(t, find(s, "cyl1.jpg").Valves)
	assert.Empty(t, find(s, "c9v1.jpg").Valves)
	assert.Equal(t, 4, s.Facts.Cylinders)
	assert.ErrorContains(t, j.AssignByNames(""), "valves of 1 photo that the engine does not have")

	require.NoError(t, j.SetEngine(inspection.Layout{Cylinders: 4, Valves: 1}, nil))
	require.NoError(t, j.AssignByNames(""))
	s = j.Sheet()
	assert.Equal(t, []int{1}, find(s, "cyl1.jpg").Valves, "there is no other")
	assert.Equal(t, 1, s.Facts.Valves)
}

// While photos are read nobody knows yet how many valves they show: that is no fault of their names.
func TestNamesOfCylindersWaitForWhatIsInView(t *testing.T) {
	b, _ := open(t, t.TempDir())
	j := &Job{bay: b, dir: t.TempDir(), form: &inspection.Form{}, shots: map[string]*shot{"cyl2.jpg": {file: "cyl2.jpg", state: waiting}}}
	assert.ErrorContains(t, j.AssignByNames(""), "is still being read")
	j.shots = map[string]*shot{"IMG_1.jpg": {file: "IMG_1.jpg", state: waiting}}
	assert.ErrorContains(t, j.AssignByNames(""), "no name tells a valve")
}

// A form written by hand may name photos in whatever folder below: they count for the commands, so they do here.
func TestPhotosThatTheFormNamesElsewhere(t *testing.T) {
	dir := t.TempDir()
	putDemo(t, dir, "frames/day/x.jpg", "cyl1-valve1-before.jpg")
	form := &inspection.Form{
		Engine: inspection.Layout{Cylinders: 1, Valves: 1},
		Photos: []inspection.Entry{{File: "frames/day/x.jpg", Cylinder: 1, Valves: []int{1}}},
	}
	text, err := form.Write(nil)
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(filepath.Join(dir, inspection.File), text, 0o644))
	_, j := open(t, dir)
	assert.Equal(t, gradeOf(t, "cyl1-valve1-before.jpg"), *read(t, j, 1).Cylinders[0].Grade)
}

func TestUndoSparesWhatOthersWrote(t *testing.T) {
	dir := t.TempDir()
	putDemo(t, dir, "a.jpg", "cyl1-valve1-before.jpg")
	_, j := open(t, dir)
	read(t, j, 1)
	_, err := j.Undo()
	assert.ErrorIs(t, err, ErrNothing)
	require.NoError(t, j.SetEngine(inspection.Layout{Cylinders: 4, Valves: 2}, nil))
	path := filepath.Join(dir, inspection.File)
	text, err := os.ReadFile(path)
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(path, append(text, "# mine\n"...), 0o644))
	_, err = j.Undo()
	assert.ErrorIs(t, err, ErrMeanwhile)
	require.NoError(t, j.Assign([]string{"a.jpg"}, 1, []int{1}))
	kept, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.Contains(t, string(kept), "# mine")
}

func TestAFileThatCannotBeUsedIsNotWritten(t *testing.T) {
	dir := t.TempDir()
	putDemo(t, dir, "a.jpg", "cyl1-valve1-before.jpg")
	path := filepath.Join(dir, inspection.File)
	require.NoError(t, os.WriteFile(path, []byte("vehicle: x\nodd: 1\n"), 0o644))
	_, j := open(t, dir)
	assert.Contains(t, read(t, j, 1).Fault, "odd")
	assert.NotContains(t, read(t, j, 1).Fault, j.dir)
	assert.Error(t, j.SetEngine(inspection.Layout{Cylinders: 4, Valves: 2}, nil))
	text, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.Equal(t, "vehicle: x\nodd: 1\n", string(text))
}

// A result that cannot be drawn, as a mistake of the program might leave one, ends nothing.
func TestAFailedPictureIsTold(t *testing.T) {
	_, j := open(t, t.TempDir())
	thumb, err := j.show("a.jpg", []*score.Result{{Status: score.Scored, Photo: &photo.Photo{}}})
	assert.Nil(t, thumb)
	assert.ErrorContains(t, err, "the photo could not be drawn")
}

func TestGoodPhotosFollowTheOrderOfTheEngine(t *testing.T) {
	dir := t.TempDir()
	_, j := open(t, dir)
	require.NoError(t, j.SetEngine(inspection.Layout{Cylinders: 2, Valves: 1}, nil))
	require.NoError(t, j.Follow(1))
	ordinary, err := os.ReadFile("../../testdata/ordinary/brick.jpg")
	require.NoError(t, err)
	for n, photo := range [][]byte{demo(t, "cyl1-valve1-before.jpg"), ordinary, demo(t, "cyl2-valve1-before.jpg")} {
		_, err := j.Bring("x.jpg", time.Time{}, bytes.NewReader(photo))
		require.NoError(t, err)
		read(t, j, n+1)
	}
	s := j.Sheet()
	assert.Empty(t, s.Next)
	assert.Equal(t, 1, find(s, "x.jpg").Cylinder)
	assert.Equal(t, "refused", find(s, "x-2.jpg").State)
	assert.Empty(t, find(s, "x-2.jpg").Valves, "what has to be taken again is of no valve")
	assert.Equal(t, 2, find(s, "x-3.jpg").Cylinder)
}

// A name that tells a valve is believed before the order, and one that tells a cylinder alone within it.
func TestPhotosThatFollowGoWhereTheirNamesSay(t *testing.T) {
	_, j := open(t, t.TempDir())
	require.NoError(t, j.SetEngine(inspection.Layout{Cylinders: 3, Valves: 2}, nil))
	require.NoError(t, j.Follow(1))
	for n, c := range []struct {
		name, shows string
		place       []int
	}{
		{"c2v2.jpg", "cyl1-valve1-before.jpg", []int{2, 2}},
		{"IMG_0012.jpg", "cyl1-valve2-before.jpg", []int{1, 1}},
		{"cyl3.jpg", "cyl2-valve1-before.jpg", []int{3, 1}},
		{"c9v1.jpg", "cyl2-valve2-before.jpg", []int{1, 2}}, // no cylinder of this engine
		{"IMG_0013.jpg", "cyl3-valve1-before.jpg", []int{2, 1}},
	} {
		_, err := j.Bring(c.name, time.Time{}, bytes.NewReader(demo(t, c.shows)))
		require.NoError(t, err)
		read(t, j, n+1)
		shot := find(j.Sheet(), c.name)
		assert.Equal(t, c.place, append([]int{shot.Cylinder}, shot.Valves...), c.name)
	}
	assert.Equal(t, "3.2", j.Sheet().Next)
}

// A photo that shows fewer valves than it is listed for has no grade on the sheet either, and its valves are still to be shot.
func TestAPhotoOfFewerValvesThanListedIsRefused(t *testing.T) {
	dir := t.TempDir()
	putDemo(t, dir, "a.jpg", "cyl1-valve1-before.jpg")
	_, j := open(t, dir)
	read(t, j, 1)
	require.NoError(t, j.SetEngine(inspection.Layout{Cylinders: 1, Valves: 2}, nil))
	require.NoError(t, j.Assign([]string{"a.jpg"}, 1, []int{1}))
	s := j.Sheet()
	require.Equal(t, "good", s.Shots[0].State)
	assert.Equal(t, "1.2", s.Next)
	outline := s.Shots[0].Seen[0].Head

	require.NoError(t, j.Assign([]string{"a.jpg"}, 1, []int{1, 2}))
	s = j.Sheet()
	shot := s.Shots[0]
	assert.Equal(t, "refused", shot.State)
	require.Len(t, shot.Seen, 1)
	assert.Nil(t, shot.Seen[0].Grade)
	assert.Empty(t, shot.Seen[0].Decision)
	assert.Equal(t, outline, shot.Seen[0].Head, "to be corrected by hand")
	assert.Equal(t, []Reason{{
		"fewer-valves", "fewer valves than listed",
		"inspection.yaml lists it for 2 valves, and it shows 1: list the photo for the valves that it shows, or retake it with all of them in view",
		true,
	}}, shot.Seen[0].Reasons)
	assert.Equal(t, "1.1", s.Next)
	assert.Contains(t, s.Notes, "cylinder 1 valve 1 has no photo that could be judged: fewer valves than listed")
}

// An outline by hand, and paint, change the figures; both are said, kept in the sidecar, and taken back.
func TestOutlineAndPaintByHand(t *testing.T) {
	dir := t.TempDir()
	putDemo(t, dir, "IMG_1.JPG", "cyl2-valve1-before.jpg")
	_, j := open(t, dir)
	first := read(t, j, 1).Shots[0].Seen[0]
	head := Ellipse{first.Head.X.Value(), first.Head.Y.Value(), 80, 70, 0}
	require.NoError(t, j.SetMarks("IMG_1.JPG", Outline{By: "Ann", Head: &head}))
	s := until(t, j, func(s *Sheet) bool { return s.Reading == 0 && s.Shots[0].Seen[0].ByHand })
	assert.NotEqual(t, first.Index, s.Shots[0].Seen[0].Index)
	assert.Equal(t, "Ann", s.Shots[0].Seen[0].OutlinedBy)
	_, err := os.Stat(filepath.Join(dir, "IMG_1.JPG.marks.yaml"))
	require.NoError(t, err)

	over := Stroke{"heavy", 160, [][2]float64{{head.X, head.Y}}}
	require.NoError(t, j.SetMarks("IMG_1.JPG", Outline{By: "Ann", Head: &head, Painted: []Stroke{over}}))
	s = until(t, j, func(s *Sheet) bool { return s.Reading == 0 && s.Shots[0].Seen[0].Painted != nil })
	seen := s.Shots[0].Seen[0]
	assert.Equal(t, 100.0, seen.Index.Value(), "heavy all over")
	assert.Equal(t, 1.0, seen.Painted.Value())
	assert.Equal(t, "Ann", seen.PaintedBy)
	assert.InDelta(t, 95, seen.Low.Value(), 0.01, "a hand is no surer than 5 points")
	for _, name := range []string{"IMG_1.JPG.png", "IMG_1.JPG.region.png", "IMG_1.JPG.deposit.png"} {
		file, err := os.Open(filepath.Join(dir, Corrected, name))
		require.NoError(t, err, "what training takes")
		picture, err := png.Decode(file)
		require.NoError(t, err)
		assert.Equal(t, 640, picture.Bounds().Dx())
		require.NoError(t, file.Close())
	}
	mask, err := score.ReadMask(filepath.Join(dir, Corrected, "IMG_1.JPG.deposit.png"))
	require.NoError(t, err)
	assert.Equal(t, uint8(3), mask.GrayAt(int(head.X), int(head.Y)).Y)

	for range 2 {
		_, err = j.Undo()
		require.NoError(t, err)
	}
	s = until(t, j, func(s *Sheet) bool { return s.Reading == 0 && !s.Shots[0].Seen[0].ByHand })
	assert.Equal(t, first.Index, s.Shots[0].Seen[0].Index)
	_, err = os.Stat(filepath.Join(dir, Corrected, "IMG_1.JPG.deposit.png"))
	assert.ErrorIs(t, err, os.ErrNotExist)
	assert.Error(t, j.SetMarks("IMG_1.JPG", Outline{Head: &Ellipse{9000, 0, 10, 10, 0}}))
	assert.ErrorIs(t, j.SetMarks("../IMG_1.JPG", Outline{Head: &head}), ErrUnknown)
}

func TestOverrulingAndLeavingOut(t *testing.T) {
	dir := t.TempDir()
	putDemo(t, dir, "a.jpg", "cyl1-valve1-before.jpg")
	putDemo(t, dir, "b.jpg", "cyl1-valve2-before.jpg")
	_, j := open(t, dir)
	read(t, j, 2)
	require.NoError(t, j.SetEngine(inspection.Layout{Cylinders: 1, Valves: 1}, nil))
	require.NoError(t, j.Assign([]string{"a.jpg", "b.jpg"}, 1, []int{1}))
	assert.ErrorIs(t, j.Overrule(1, 1, new(2), Signed{"Ann", " "}), ErrUnsigned)
	assert.ErrorIs(t, j.LeaveOut("a.jpg", &Signed{"", "smeared"}), ErrUnsigned)
	assert.Error(t, j.Overrule(1, 1, new(5), Signed{"Ann", "x"}))
	assert.ErrorIs(t, j.Overrule(2, 1, new(2), Signed{"Ann", "x"}), ErrUnknown)
	require.NoError(t, j.Overrule(1, 1, new(2), Signed{"Ann", "seen from the side"}))
	require.NoError(t, j.LeaveOut("b.jpg", &Signed{"Ann", "smeared"}))
	valve := j.Sheet().Cylinders[0].Valves[0]
	assert.Equal(t, &Overruled{2, "patchy", "Ann", "seen from the side"}, valve.Overruled)
	assert.Equal(t, gradeOf(t, "cyl1-valve1-before.jpg"), *valve.Grade, "the measured grade stays, that of the photo that counts")
	assert.Equal(t, 1, valve.Used)
	require.NoError(t, j.Overrule(1, 1, nil, Signed{}))
	require.NoError(t, j.LeaveOut("b.jpg", nil))
	assert.Nil(t, j.Sheet().Cylinders[0].Valves[0].Overruled)
	assert.Equal(t, 2, j.Sheet().Cylinders[0].Valves[0].Used)
}

// The command line reads what was decided on the page, and the page what was written by hand.
func TestFilesAreThoseOfTheCommandLine(t *testing.T) {
	dir := t.TempDir()
	putDemo(t, dir, "a.jpg", "cyl1-valve1-before.jpg")
	b, j := open(t, dir)
	read(t, j, 1)
	require.NoError(t, j.SetEngine(inspection.Layout{Cylinders: 1, Valves: 1}, nil))
	require.NoError(t, j.Assign([]string{"a.jpg"}, 1, []int{1}))
	assert.Error(t, j.SetFacts(Facts{Odometer: "84,2 mi"}))
	assert.Error(t, j.SetFacts(Facts{Date: "today"}))
	assert.Error(t, j.SetFacts(Facts{Date: "0026-05-01"}), "26 typed into a field of a date")
	require.NoError(t, j.SetFacts(Facts{Vehicle: "van", Date: "2026-05-01", Odometer: "84200 mi", Stage: "before"}))
	assert.Empty(t, j.Sheet().Open)
	i, err := inspection.Load(dir)
	require.NoError(t, err)
	assert.Equal(t, "van", i.Vehicle)
	require.NoError(t, j.writeResults())
	file, err := os.Open(filepath.Join(dir, Results))
	require.NoError(t, err)
	saved, err := engine.Read(file)
	require.NoError(t, errors.Join(err, file.Close()))
	assert.Equal(t, 1, saved.Engine.WorstCylinder)
	assert.NotNil(t, saved.Photos[0].Map, "it is compared when the photo is gone, too")

	path := filepath.Join(dir, inspection.File)
	text, err := os.ReadFile(path)
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(path, bytes.ReplaceAll(text, []byte(`"van"`), []byte("lorry")), 0o644))
	until(t, j, func(s *Sheet) bool { return s.Facts.Vehicle == "lorry" })
	assert.Equal(t, score.Options{}.Version(), b.Version())
}

// A file of the results' name that holds none, or that cannot be read, is somebody's and stays.
func TestResultsReplaceNoOtherFile(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, Results)
	putDemo(t, dir, "a.jpg", "cyl1-valve1-before.jpg")
	_, j := open(t, dir)
	for size, why := range map[int64]string{6: "not JSON", limit.SavedBytes + 1: "larger than 16 MiB"} {
		require.NoError(t, os.WriteFile(path, []byte("shifts"), 0o644))
		require.NoError(t, os.Truncate(path, size))
		j.lock.Lock()
		j.unsaved = true
		j.lock.Unlock()
		until(t, j, func(s *Sheet) bool { return strings.Contains(strings.Join(s.Notes, " "), why) })
		assert.NotContains(t, strings.Join(j.Sheet().Notes, " "), dir, "where it lies is the shop's business")
		info, err := os.Stat(path)
		require.NoError(t, err)
		assert.Equal(t, size, info.Size())
	}
}

func TestInspectionsOfAFolder(t *testing.T) {
	dir := t.TempDir()
	b, err := Open(dir, Options{Workers: 1})
	require.NoError(t, err)
	defer b.Close()
	ids, err := b.IDs()
	require.NoError(t, err)
	assert.Equal(t, []string{Here}, ids, "an empty folder is an inspection that has not begun")
	for _, name := range []string{"", "..", "a/b", `a\b`, ".hidden", "here", "corrected", "a\x00", strings.Repeat("x", 100)} {
		_, err := b.Create(name)
		assert.ErrorIs(t, err, ErrName, name)
	}
	id, err := b.Create("2026-05-01 van")
	require.NoError(t, err)
	_, err = b.Create("2026-05-01 van")
	assert.ErrorIs(t, err, ErrExists)
	_, err = b.Job(id)
	require.NoError(t, err)
	for _, name := range []string{"..", "../x", "/etc", "none", ""} {
		_, err := b.Job(name)
		assert.ErrorIs(t, err, ErrUnknown, name)
	}
	_, err = Open(filepath.Join(dir, "none"), Options{})
	assert.Error(t, err)
}
