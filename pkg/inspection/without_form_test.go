package inspection

import (
	"fmt"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func never(string) *time.Time { return nil }

// Each row: the photos of one or two folders, the cylinder and valve of each in their order, and what is said of it.
func TestPlacesOfPlainPhotos(t *testing.T) {
	for name, c := range map[string]struct {
		before, after []string
		want          string
		says          string
	}{
		"names tell":         {[]string{"c2v1.jpg", "c1v2.jpg"}, []string{"cyl1-valve2.png", "cyl2-valve1.png"}, "[1.2 2.1] [1.2 2.1]", "those of the file names"},
		"equal names":        {[]string{"b.jpg", "a.jpg", "new.jpg"}, []string{"A.PNG", "b.jpg"}, "[1.1 2.1 3.1] [1.1 2.1]", "photos of one name"},
		"order":              {[]string{"x1.jpg", "x2.jpg"}, []string{"y7.jpg", "y9.jpg"}, "[1.1 2.1] [1.1 2.1]", "cylinder 1 is x1.jpg, 2 is x2.jpg"},
		"names tell of some": {[]string{"c3.jpg", "odd.jpg"}, []string{"c3.jpg", "even.jpg"}, "[3.1] [3.1]", "left out, as their names do not tell which valve they show: b/odd.jpg"},
		"as people count":    {[]string{"x9.jpg", "x10.jpg"}, []string{"x11.jpg", "x12.jpg"}, "[1.1 2.1] [1.1 2.1]", "cylinder 1 is x9.jpg, 2 is x10.jpg"},
		"told beside alone":  {[]string{"cyl1/b.jpg", "cyl1/a.jpg"}, []string{"c1v1.jpg", "c1v2.jpg"}, "[1.1 1.2] [1.1 1.2]", "cylinder 1 valve 1 is cyl1/a.jpg, 1 valve 2 is cyl1/b.jpg"},
		"names of one":       {[]string{"c3v1.jpg", "c3v2.jpg"}, []string{"IMG_9.jpg", "IMG_10.jpg"}, "[3.1 3.2] [3.1 3.2]", "those of the file names"},
		"cylinders of one":   {[]string{"x9.jpg", "x10.jpg"}, []string{"cyl3/b.jpg", "cyl3/a.jpg"}, "[3.1 3.2] [3.1 3.2]", "those of the file names"},
		"some of one":        {[]string{"c3v1.jpg", "odd.jpg"}, []string{"x9.jpg", "x10.jpg"}, "[1.1 2.1] [1.1 2.1]", "cylinder 1 is c3v1.jpg, 2 is odd.jpg"},
		"cylinder alone":     {[]string{"cyl1/2.jpg", "cyl1/1.jpg", "c2v1.jpg"}, []string{"cyl1/1.jpg", "cyl1/2.jpg"}, "[1.1 1.2 2.1] [1.1 1.2]", "cylinder 1 valve 1 is cyl1/1.jpg, 1 valve 2 is cyl1/2.jpg"},
		"alone, in order":    {[]string{"c1.jpg", "c1b.jpg", "c2.jpg"}, []string{"cyl1 9.jpg", "cyl1 10.jpg", "cyl2.jpg"}, "[1.1 1.2 2.1] [1.1 1.2 2.1]", "by the order of names, or by its name where one has fewer; cylinder 1 valve 1 is c1.jpg"},
		"alone, one deleted": {[]string{"cyl1/1.jpg", "cyl1/3.jpg"}, []string{"cyl1/1.jpg", "cyl1/2.jpg"}, "[1.1 1.2] [1.1 1.2]", "cylinder 1 valve 1 is cyl1/1.jpg, 1 valve 2 is cyl1/3.jpg"},
		"alone, one fewer":   {[]string{"cyl1/b.jpg"}, []string{"cyl1/a.jpg", "cyl1/B.PNG"}, "[1.2] [1.1 1.2]", "cylinder 1 valve 1 is cyl1/a.jpg, 1 valve 2 is cyl1/b.jpg"},
		"alone, two formats": {[]string{"cyl1/a.jpg", "cyl1/a.heic", "cyl1/b.jpg"}, nil, "[1.1 1.1 1.2]", "numbered in the order of names"},
		"alone, in one":      {[]string{"cyl1/a.jpg", "cyl1/b.jpg", "cyl1/c.jpg"}, []string{"cyl2/a.jpg"}, "[1.1 1.2 1.3] [2.1]", "names tell only the cylinder"},
		"alone, one each":    {[]string{"cyl1/a.jpg", "cyl2/a.jpg"}, []string{"cyl1/b.jpg", "cyl2/b.jpg"}, "[1.1 2.1] [1.1 2.1]", "those of the file names"},
		"alone, one folder":  {[]string{"cyl1/b.jpg", "cyl1/a.jpg"}, nil, "[1.1 1.2]", "numbered in the order of names; cylinder 1 valve 1 is cyl1/a.jpg, 1 valve 2 is cyl1/b.jpg"},
		"one folder":         {[]string{"odd.jpg", "even.jpg"}, nil, "[1.1 2.1]", "a valve of its own"},
	} {
		folders := []Plain{{Dir: "b", Files: c.before}, {Dir: "a", Files: c.after}}
		stages := []Stage{Before, After}
		if c.after == nil {
			folders, stages = folders[:1], []Stage{Routine}
		}
		got, err := Assume(folders, never, nil)
		require.NoError(t, err, name)
		text := ""
		for n, i := range got {
			var places []string
			for _, p := range i.Photos {
				places = append(places, fmt.Sprintf("%d.%d", p.Cylinder, p.Valve))
			}
			text += fmt.Sprint(places, " ")
			assert.Equal(t, stages[n], i.Stage, name)
			assert.False(t, i.Dated() || i.Odometer.Known(), name)
			assert.True(t, SameVehicle(i, got[0]))
			assert.Equal(t, got[0].Engine, i.Engine, name)
		}
		assert.Equal(t, c.want, text[:len(text)-1], name)
		assert.Contains(t, got[0].Assumed[len(got[0].Assumed)-1], c.says, name)
	}
}

func TestTwoPhotosGivenThemselvesAreOneValve(t *testing.T) {
	got, err := Assume([]Plain{{Dir: ".", Files: []string{"c1v1.jpg"}, Alone: true}, {Dir: ".", Files: []string{"c3v2.jpg"}, Alone: true}}, never, nil)
	require.NoError(t, err)
	assert.Equal(t, got[0].Photos[0].Cylinder, got[1].Photos[0].Cylinder)
	assert.Contains(t, got[0].Assumed[1], "one valve")
	for names, want := range map[[2]string]string{
		{"cyl4-valve2-before.jpg", "cyl4-valve2-after.jpg"}: "4.2 both photos are taken for one valve, that of the file names",
		{"c3v2.jpg", "IMG_0012.jpg"}:                        "3.2 both photos are taken for one valve, that of the file names",
		{"IMG_0011.jpg", "IMG_0012.jpg"}:                    "1.1 both photos are taken for one valve",
		{"cyl4.jpg", "c4v2.jpg"}:                            "4.2 both photos are taken for one valve, that of the file names",
		{"c1v1.jpg", "c3v2.jpg"}:                            "1.1 both photos are taken for one valve",
	} {
		got, err = Assume([]Plain{{Dir: ".", Files: names[:1], Alone: true}, {Dir: ".", Files: names[1:], Alone: true}}, never, nil)
		require.NoError(t, err)
		for _, i := range got {
			assert.Equal(t, want, fmt.Sprintf("%d.%d %s", i.Photos[0].Cylinder, i.Photos[0].Valve, got[0].Assumed[1]))
		}
	}
	got, err = Assume([]Plain{{Dir: ".", Files: []string{"a.jpg"}, Alone: true}}, never, nil)
	require.NoError(t, err)
	assert.Empty(t, got[0].Assumed, "one photo leaves nothing open")
}

func TestPlainPhotosThatCannotBeMatched(t *testing.T) {
	_, err := Assume(
		[]Plain{{Dir: "b", Files: []string{"x.jpg"}}, {Dir: "a", Files: []string{"y.jpg", "z.jpg"}}},
		never,
		nil,
	)
	assert.ErrorIs(t, err, ErrPlaces)
	_, err = Assume([]Plain{{Dir: "b", Files: []string{"cyl2/a.jpg", "cyl2/b.jpg"}}, {Dir: "a", Files: []string{"cyl2/c.jpg"}}}, never, nil)
	assert.ErrorIs(t, err, ErrPlaces)
	assert.ErrorContains(t, err, "cylinder 2: ")
	_, err = Assume([]Plain{{Dir: "b", Files: []string{"cyl2/a.jpg", "cyl2/b.jpg", "cyl2/c.jpg", "cyl2/d.jpg"}}}, never, nil)
	assert.ErrorIs(t, err, ErrPlaces)
	_, err = Assume([]Plain{{Dir: "b", Files: []string{"cyl2/a.jpg", "cyl2/b.jpg", "cyl2/c.jpg"}}, {Dir: "a", Files: []string{"cyl2/c.jpg", "cyl2/d.jpg"}}}, never, nil)
	assert.ErrorContains(t, err, "4 photos, and at most 3 can be numbered")
	var files []string
	for n := range MostCylinders + 1 {
		files = append(files, fmt.Sprintf("%d.jpg", n))
	}
	_, err = Assume([]Plain{{Dir: "b", Files: files}}, never, nil)
	assert.ErrorIs(t, err, ErrPlaces)
}

// A photo that Draft gives to a valve is of that valve without a form, too, alone and beside the photos after a cleaning.
func TestPlainPhotosAreWhereDraftPutsThem(t *testing.T) {
	for _, files := range [][]string{
		{"cyl1/IMG_10.jpg", "cyl1/IMG_9.jpg", "cyl2/a.jpg", "cyl2/b.jpg"},
		{"cyl2a.JPG", "Cyl2B.jpg", "c1v2.jpg"},
		{"c3v2.jpg", "IMG_1.jpg", "cyl4.jpg"},
		{"cyl1/v2.jpg", "cyl1/b.jpg", "cyl1/c.jpg", "cyl2/a.jpg"},
		{"c1v1.jpg", "c1v2.jpg", "cyl1.jpg", "c2v1a.jpg", "c2v1b.jpg"},
		{"cyl1/a.jpg", "cyl2/a.jpg", "cyl3/b.jpg"},
	} {
		draft, err := Draft("b", files, DraftOptions{})
		require.NoError(t, err)
		require.NotEmpty(t, draft.Placed)
		var others []string
		for _, file := range files {
			others = append(others, strings.Replace(file, ".", " clean.", 1))
		}
		plain := Plain{Dir: "b", Files: files}
		for _, folders := range [][]Plain{{plain}, {plain, {Dir: "a", Files: files}}, {plain, {Dir: "a", Files: others}}} {
			got, err := Assume(folders, never, nil)
			require.NoError(t, err, files)
			for _, placed := range draft.Placed {
				assert.Contains(t, got[0].Photos, placed, files)
			}
		}
	}
}

// Photos in folders of theirs are told, a few by name, with the inspection that they are missing from.
func TestPlainPhotosInFoldersOfTheirsAreTold(t *testing.T) {
	got, err := Assume([]Plain{
		{Dir: "b", Files: []string{"c1v1.jpg"}},
		{Dir: "shop/a", Files: []string{"c1v1.jpg"}, Elsewhere: []string{"DCIM/1.jpg", "DCIM/2.jpg", "DCIM/3.jpg", "DCIM/4.jpg"}},
	}, never, nil)
	require.NoError(t, err)
	for _, said := range got[0].Assumed {
		assert.NotContains(t, said, "left out")
	}
	assert.Equal(t, []string{"left out, as their folders are named for no cylinder: a/DCIM/1.jpg, a/DCIM/2.jpg, a/DCIM/3.jpg, ..."}, got[1].Assumed)
}

func TestPlainPhotosAreOfTheDayOfTheLast(t *testing.T) {
	taken := func(path string) *time.Time {
		if path == "b/y.jpg" {
			return new(time.Date(2026, 3, 14, 15, 9, 26, 0, time.Local))
		}
		return nil
	}
	got, err := Assume([]Plain{{Dir: "b", Files: []string{"x.jpg", "y.jpg"}}}, taken, nil)
	require.NoError(t, err)
	assert.Equal(t, time.Date(2026, 3, 14, 0, 0, 0, 0, time.UTC), got[0].Date)
}

func TestFactsAreReadAsTheyWereWritten(t *testing.T) {
	form := &Inspection{
		Vehicle:  "fleet-17",
		Date:     time.Date(2026, 3, 14, 0, 0, 0, 0, time.UTC),
		Stage:    After,
		Odometer: Odometer{45210, Miles},
	}
	for _, i := range []*Inspection{form, {Vehicle: "x", Stage: Before, Assumed: []string{"by order"}}} {
		got, err := i.Write().Inspection()
		require.NoError(t, err)
		assert.Equal(t, i, got)
	}
	for _, spoil := range []func(*Written){
		func(w *Written) { w.Vehicle = "" },
		func(w *Written) { w.Date = new("14 March") },
		func(w *Written) { w.Date = new("0001-01-01") },
		func(w *Written) { w.Odometer = nil },
		func(w *Written) { w.Odometer = new(-1.0) },
		func(w *Written) { w.OdometerUnit = new(Unit("leagues")) },
		func(w *Written) { w.Stage = "washed" },
	} {
		w := form.Write()
		spoil(&w)
		_, err := w.Inspection()
		assert.Error(t, err, "%+v", w)
	}
}

// Each row: the photos of one or two folders with how many valves each shows, their places as cylinder.valve<-place from
// the left, and what is said of it.
func TestPlainPhotosOfSeveralValves(t *testing.T) {
	type shown map[string]int
	for name, c := range map[string]struct {
		before, after []string
		shows         shown
		want, says    string
	}{
		"names tell cylinders": {[]string{"cyl2.jpg", "cyl4.jpg"}, []string{"cyl2.jpg", "cyl4.jpg"},
			shown{"b/cyl2.jpg": 2, "a/cyl2.jpg": 2, "b/cyl4.jpg": 2, "a/cyl4.jpg": 2},
			"[2.1<-1 2.2<-2 4.1<-1 4.2<-2] [2.1<-1 2.2<-2 4.1<-1 4.2<-2]", "where photos show several valves, these are taken for those of a cylinder, in one order from left to right"},
		"order": {[]string{"x.jpg"}, []string{"y.jpg"}, shown{"b/x.jpg": 2, "a/y.jpg": 2},
			"[1.1<-1 1.2<-2] [1.1<-1 1.2<-2]", "where photos show several valves"},
		"one of each": {[]string{"cyl1.jpg"}, []string{"cyl1.jpg"}, shown{"b/cyl1.jpg": 1, "a/cyl1.jpg": 1},
			"[1.1<-0] [1.1<-0]", "cylinders and valves are those of the file names"},
		"one refused": {[]string{"cyl1.jpg"}, []string{"cyl1.jpg"}, shown{"a/cyl1.jpg": 2},
			"[1.1<-1 1.2<-2] [1.1<-1 1.2<-2]", "where photos show several valves"},
		"not as many": {[]string{"x.jpg"}, []string{"y.jpg"}, shown{"b/x.jpg": 2, "a/y.jpg": 1},
			"[1.1<-0] [1.1<-0]", "x.jpg and y.jpg show 2 and 1 valves: the largest of each counts"},
		"names tell valves": {[]string{"c2v1.jpg"}, []string{"c2v1.jpg"}, shown{"b/c2v1.jpg": 2, "a/c2v1.jpg": 2},
			"[2.1<-0] [2.1<-0]", "cylinders and valves are those of the file names"},
		"one folder": {[]string{"odd.jpg", "even.jpg"}, nil, shown{"b/odd.jpg": 2, "b/even.jpg": 1},
			"[1.1<-0 2.1<-1 2.2<-2]", "where photos show several valves"},
		"two photos of a cylinder": {[]string{"cyl1 a.jpg", "cyl1 b.jpg"}, nil, shown{"b/cyl1 a.jpg": 2, "b/cyl1 b.jpg": 2},
			"[1.1<-1 1.1<-1 1.2<-2 1.2<-2]", "where photos show several valves"},
	} {
		folders := []Plain{{Dir: "b", Files: c.before}, {Dir: "a", Files: c.after}}
		if c.after == nil {
			folders = folders[:1]
		}
		got, err := Assume(folders, never, func(path string) int { return c.shows[filepath.ToSlash(path)] })
		require.NoError(t, err, name)
		var text []string
		for _, i := range got {
			var places []string
			for _, p := range i.Photos {
				places = append(places, fmt.Sprintf("%d.%d<-%d", p.Cylinder, p.Valve, p.FromLeft))
				assert.True(t, i.HeardOf(p.Cylinder, p.Valve), name)
				assert.LessOrEqual(t, p.Valve, i.Engine.Valves, name)
			}
			text = append(text, fmt.Sprint(places))
		}
		assert.Equal(t, c.want, strings.Join(text, " "), name)
		assert.Contains(t, got[0].Assumed[len(got[0].Assumed)-1], c.says, name)
	}
}
