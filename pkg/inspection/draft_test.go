package inspection_test

import (
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"valvegrade/pkg/inspection"
)

// drafted returns the inspection that a draft becomes once its open lines are filled in.
func drafted(t *testing.T, files []string, o inspection.DraftOptions) (*inspection.Inspection, string) {
	t.Helper()
	p, err := inspection.Draft("fleet 17", files, o)
	require.NoError(t, err)
	filled := strings.Replace(string(p.Text), "\nodometer:\n", "\nodometer: 1 km\n", 1)
	filled = strings.Replace(filled, "\ndate:\n", "\ndate: 2026-01-02\n", 1)
	i, err := inspection.Parse("draft", []byte(filled))
	require.NoError(t, err, filled)
	return i, string(p.Text)
}

func TestDraftGuessesFromUsualNames(t *testing.T) {
	for name, want := range map[string]inspection.Photo{
		"c2v1.jpg":                      {Cylinder: 2, Valve: 1},
		"C10V2.JPG":                     {Cylinder: 10, Valve: 2},
		"cyl3_valve2.png":               {Cylinder: 3, Valve: 2},
		"Cylinder 4 intake 2 (3).jpg":   {Cylinder: 4, Valve: 2},
		"cylinder 2 intake valve 1.jpg": {Cylinder: 2, Valve: 1},
		"2026-03-14 cyl-1-v-2.jpg":      {Cylinder: 1, Valve: 2},
		"valve 2 cylinder 3.jpg":        {Cylinder: 3, Valve: 2},
		"v1c6.jpg":                      {Cylinder: 6, Valve: 1},
		"2-1.jpg":                       {Cylinder: 2, Valve: 1},
		"2_1b.jpg":                      {Cylinder: 2, Valve: 1},
		"cyl5.jpg":                      {Cylinder: 5, Valve: 1},
		"after/cyl #5.jpg":              {Cylinder: 5, Valve: 1},
	} {
		want.File = name
		i, _ := drafted(t, []string{name}, inspection.DraftOptions{})
		assert.Equal(t, []inspection.Photo{want}, i.Photos, name)
		assert.Equal(t, inspection.Layout{Cylinders: want.Cylinder, Valves: want.Valve}, i.Engine, name)
	}
}

func TestDraftLeavesUnclearNamesToTheReader(t *testing.T) {
	for _, name := range []string{"IMG_0034.jpg", "20260314_101500.jpg", "c99v1.jpg", "c1v7.jpg", "doc2v1.jpg", "2-14.jpg", "cyl3.jpg"} {
		// c1v1 tells its valve, so a name with the cylinder alone is unclear too.
		i, text := drafted(t, []string{"c1v1.jpg", name}, inspection.DraftOptions{})
		assert.Len(t, i.Photos, 1, name)
		assert.Contains(t, text, `#  - file: "`+name+`"`)
	}
}

func TestDraftTakesAPattern(t *testing.T) {
	p, err := inspection.NewPattern(`port(?P<cylinder>\d+)(?P<valve>\d)`)
	require.NoError(t, err)
	i, _ := drafted(t, []string{"PORT122.jpg"}, inspection.DraftOptions{Pattern: p})
	assert.Equal(t, []inspection.Photo{{File: "PORT122.jpg", Cylinder: 12, Valve: 2}}, i.Photos)

	_, err = inspection.NewPattern(`port(\d)`)
	assert.ErrorContains(t, err, "write {cylinder}")
	_, err = inspection.NewPattern(`(`)
	assert.ErrorContains(t, err, "pattern")
}

func TestDraftDatesByTheLastPhoto(t *testing.T) {
	days := map[string]*time.Time{"fleet 17/c1v1.jpg": day(14), "fleet 17/c2v1.jpg": day(12), "fleet 17/c3v1.jpg": nil}
	i, text := drafted(t, []string{"c1v1.jpg", "c2v1.jpg", "c3v1.jpg"}, inspection.DraftOptions{
		Taken: func(path string) *time.Time { return days[path] },
	})
	assert.Equal(t, time.Date(2026, 3, 14, 0, 0, 0, 0, time.UTC), i.Date)
	assert.Contains(t, text, "2026-03-12 to 2026-03-14")
	assert.Equal(t, "fleet 17", i.Vehicle)
}

func day(d int) *time.Time {
	t := time.Date(2026, 3, d, 10, 15, 0, 0, time.UTC)
	return &t
}

func TestDraftQuotesOddNames(t *testing.T) {
	name := "c1v1 \"best\": #2 \U0001F527.jpg"
	i, _ := drafted(t, []string{name}, inspection.DraftOptions{})
	assert.Equal(t, name, i.Photos[0].File)
}

// Two folders that are named for a cleaning are of one vehicle, that of the folder around them.
func TestAFolderNamedForItsStageTellsIt(t *testing.T) {
	for dir, want := range map[string]inspection.Stage{
		"van 7/before": inspection.Before, "van 7/Nachher": inspection.After, "before/van 7": inspection.Routine,
	} {
		p, err := inspection.Draft(dir, []string{"c1v1.jpg"}, inspection.DraftOptions{})
		require.NoError(t, err)
		assert.Equal(t, "van 7", p.Vehicle, dir)
		assert.Contains(t, string(p.Text), "\nstage: "+string(want)+"\n", dir)
	}
}

func TestDraftSaysWhatItWasGuessedFrom(t *testing.T) {
	p, err := inspection.Draft(
		"fleet 17",
		[]string{"c10v1.jpg", "IMG_1.jpg", "c2v2.jpg", "c3.jpg"},
		inspection.DraftOptions{},
	)
	require.NoError(t, err)
	assert.Equal(t, "fleet 17", p.Vehicle)
	assert.Equal(t, inspection.Layout{Cylinders: 10, Valves: 2}, p.Engine)
	assert.Equal(
		t,
		[]inspection.Photo{{File: "c2v2.jpg", Cylinder: 2, Valve: 2}, {File: "c10v1.jpg", Cylinder: 10, Valve: 1}},
		p.Placed,
	)
	assert.Equal(t, []inspection.Unplaced{{File: "IMG_1.jpg"}, {File: "c3.jpg", Cylinder: 3}}, p.Unplaced)
	assert.Empty(t, p.Last)
}

func TestDraftCountsCylindersOfPhotosWithoutAPlace(t *testing.T) {
	shows := map[string]int{"cyl1.jpg": 2, "cyl2.jpg": 2, "cyl3.jpg": 1}
	o := inspection.DraftOptions{Valves: func(path string) int { return shows[filepath.Base(path)] }}
	i, text := drafted(t, []string{"cyl1.jpg", "cyl2.jpg", "cyl3.jpg"}, o)
	assert.Equal(t, inspection.Layout{Cylinders: 3, Valves: 2}, i.Engine)
	told := strings.NewReplacer("#  - file", "  - file", "#    cylinder", "    cylinder", "#    valve:", "    valve: 2").Replace(text)
	told = strings.NewReplacer("\nodometer:\n", "\nodometer: 1 km\n", "\ndate:\n", "\ndate: 2026-01-02\n").Replace(told)
	_, err := inspection.Parse("draft", []byte(told))
	assert.NoError(t, err, "the file with what it asks for filled in")
}

func TestDraftClaimsNoEngineThatNoNameTells(t *testing.T) {
	p, err := inspection.Draft("fleet 17", []string{"IMG_1.jpg"}, inspection.DraftOptions{})
	require.NoError(t, err)
	assert.Equal(t, inspection.Layout{}, p.Engine)
	assert.NotContains(t, string(p.Text), "found in the file names")
	_, err = inspection.Parse(inspection.File, p.Text)
	assert.ErrorContains(t, err, "inspection.yaml:6: the number of cylinders is missing")
	assert.ErrorContains(t, err, "inspection.yaml:6: the number of intake valves of each cylinder is missing")
}
