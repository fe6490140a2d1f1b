package bay

import (
	"bytes"
	"context"
	"image"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/disintegration/imaging"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"valvegrade/internal/report/texts"
	"valvegrade/pkg/compare"
	"valvegrade/pkg/inspection"
	"valvegrade/pkg/report"
)

// putStages writes an inspection before a cleaning and one after it, of one cylinder with two valves; photo gives the
// file of a valve.
func putStages(t *testing.T, dir string, photo func(stage, valve string) []byte) {
	t.Helper()
	for _, stage := range []string{"before", "after"} {
		form := &inspection.Form{
			Vehicle: "van", Engine: inspection.Layout{Cylinders: 1, Valves: 2}, Date: "2026-05-01", Odometer: "84200 mi",
			Stage: inspection.Stage(stage),
		}
		require.NoError(t, os.Mkdir(filepath.Join(dir, stage), 0o755))
		for n, valve := range []string{"cyl1-valve1", "cyl1-valve2"} {
			name := valve + "-x.jpg"
			require.NoError(t, os.WriteFile(filepath.Join(dir, stage, name), photo(stage, valve), 0o644))
			form.Photos = append(form.Photos, inspection.Entry{File: name, Cylinder: 1, Valves: []int{n + 1}})
		}
		text, err := form.Write(nil)
		require.NoError(t, err)
		require.NoError(t, os.WriteFile(filepath.Join(dir, stage, inspection.File), text, 0o644))
	}
}

// cleanedDemo are the two inspections of putStages with demo photos, in a folder; the later one of them.
func cleanedDemo(t *testing.T) (dir string, after *Job) {
	t.Helper()
	dir = t.TempDir()
	putStages(t, dir, func(stage, valve string) []byte { return demo(t, valve+"-"+stage+".jpg") })
	b, err := Open(dir, Options{Workers: 1})
	require.NoError(t, err)
	t.Cleanup(func() { b.Close() })
	after, err = b.Job("after")
	require.NoError(t, err)
	return dir, after
}

func TestReportsAndComparisons(t *testing.T) {
	dir, j := cleanedDemo(t)
	for format := range formats {
		paper, err := j.Report(
			context.Background(),
			Order{Format: format, Before: "before", Customer: "Ms Example", Locale: "en-GB"},
		)
		require.NoError(t, err, format)
		assert.NotEmpty(t, paper.Content)
		assert.Equal(t, "van-2026-05-01."+format, paper.Name)
	}
	before, err := j.bay.Job("before")
	require.NoError(t, err)
	for _, pictures := range []bool{true, false} { // which take as long as scoring
		in := report.Input{Texts: &texts.English}
		require.NoError(t, j.bay.gather(context.Background(), []*Job{before, j}, &in, pictures))
		m, err := report.Build(in)
		require.NoError(t, err)
		valve := m.Cylinders[0].Valves[0]
		assert.Equal(t, pictures, valve.Comparison.Map != nil)
		assert.Equal(t, pictures, valve.States[0].Photos[0].Plain != nil)
		assert.NotEmpty(t, valve.Comparison.Outcome)
	}
	_, err = j.Report(context.Background(), Order{Format: "doc"})
	assert.ErrorIs(t, err, ErrFormat)
	change, err := j.Compare(context.Background(), "before", "de-DE")
	require.NoError(t, err)
	assert.Equal(t, "84.200\u00a0mi", change.Before.Odometer)
	assert.Equal(t, "changed", change.Verdict)
	assert.Contains(t, change.Headline, "Die Reinigung hat geholfen (zu 99\u00a0% wahrscheinlich): dunkle Ablagerung ")
	assert.Equal(t, [2]int{2, 2}, [2]int{change.Compared, change.Of})
	require.Len(t, change.Cylinders, 1)
	assert.Equal(t, change.Engine, change.Cylinders[0].Changed, "the only one")
	assert.Less(t, change.Engine.Dark.High.Value(), 0.0)
	require.Len(t, change.Valves, 2)
	assert.Contains(t, change.Papers, change.Valves[0].AfterPicture)
	assert.Contains(t, change.Papers, change.Valves[0].Residue)
	_, err = j.Compare(context.Background(), "../x", "")
	assert.ErrorIs(t, err, ErrUnknown)
	require.NoError(t, os.Mkdir(filepath.Join(dir, "new"), 0o755))
	_, err = j.Compare(context.Background(), "new", "")
	assert.EqualError(t, err, `of "new" nothing is filled in yet`)
}

// What both inspections say is known when their photos are read: to compare them no net is needed.
func TestComparingScoresNothingAgain(t *testing.T) {
	dir, j := cleanedDemo(t)
	before, err := j.bay.Job("before")
	require.NoError(t, err)
	read(t, before, 2)
	read(t, j, 2)
	j.bay.options.Nets = [][]byte{[]byte("no net")}
	change, err := j.Compare(t.Context(), "before", "")
	require.NoError(t, err)
	assert.Len(t, change.Papers, 2*3+1, "two heads and what is left of each valve, and the growth")

	graded, err := before.whole(t.Context())
	require.NoError(t, err)
	seen := visit{before, graded}
	var opened album
	assert.NotNil(t, seen.head(compare.NewView(&graded.Photos[0]), &opened))
	putDemo(t, dir, "before/cyl1-valve1-x.jpg", "cyl2-valve1-before.jpg")
	assert.NotNil(t, seen.head(compare.NewView(&graded.Photos[0]), &opened), "its other valve, of the photo that was read")
	assert.Nil(t, seen.head(compare.NewView(&graded.Photos[0]), new(album)), "another photo now")
}

// leftPart cuts the left three fifths out of a photo.
func leftPart(t *testing.T, photo []byte) []byte {
	t.Helper()
	whole, err := imaging.Decode(bytes.NewReader(photo))
	require.NoError(t, err)
	size := whole.Bounds().Size()
	var file bytes.Buffer
	require.NoError(t, imaging.Encode(&file, imaging.Crop(whole, image.Rect(0, 0, 3*size.X/5, size.Y)), imaging.JPEG))
	return file.Bytes()
}

func TestComparedPhotosAreNamedFromTheInspectionOn(t *testing.T) {
	dir := t.TempDir()
	putStages(t, dir, func(stage, valve string) []byte {
		photo := demo(t, valve+"-"+stage+".jpg")
		if stage == "after" && valve == "cyl1-valve2" {
			photo = leftPart(t, photo) // of which the comparison says that the outline is rough
		}
		return photo
	})
	b, err := Open(dir, Options{Workers: 1})
	require.NoError(t, err)
	defer b.Close()
	j, err := b.Job("after")
	require.NoError(t, err)
	change, err := j.Compare(context.Background(), "before", "de-DE")
	require.NoError(t, err)
	told := change.Notes
	for _, valve := range change.Valves {
		told = append(told, valve.Reasons...)
	}
	assert.Contains(t, strings.Join(told, "\n"), "after/cyl1-valve2-x.jpg")
	assert.NotContains(t, strings.Join(told, "\n"), dir, "where the folder lies is nobody's matter")
}
