package inspection_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"valvegrade/pkg/inspection"
)

func TestLoadReadsEverything(t *testing.T) {
	dir := folder(t, whole, "c1v1.jpg", "more/c1v1.jpg", "c3v2.jpg")
	i, err := inspection.Load(dir)
	require.NoError(t, err)
	assert.Equal(t, &inspection.Inspection{
		Dir:      dir,
		Vehicle:  "fleet-17",
		Engine:   inspection.Layout{Cylinders: 4, Valves: 2},
		Date:     time.Date(2026, 3, 14, 0, 0, 0, 0, time.UTC),
		Odometer: inspection.Odometer{Value: 45210, Unit: inspection.Miles},
		Stage:    inspection.After,
		Methods:  map[int]string{1: "walnut shell", 3: "solvent and brush"},
		Notes:    "Cold start misfire.\n",
		Photos: []inspection.Photo{
			{File: "c1v1.jpg", Cylinder: 1, Valve: 1},
			{File: "more/c1v1.jpg", Cylinder: 1, Valve: 1},
			{File: "c3v2.jpg", Cylinder: 3, Valve: 2},
		},
	}, i)
	assert.True(t, i.Cleaned(1))
	assert.False(t, i.Cleaned(2), "the methods name other cylinders")
	assert.Equal(t, []bool{false, true}, []bool{i.LeftAlone(1), i.LeftAlone(2)})

	i.Methods = map[int]string{1: ""}
	assert.True(t, i.Cleaned(2), "no method is named")
	assert.False(t, i.LeftAlone(2))
	i.Stage, i.Methods = inspection.Before, map[int]string{1: "walnut shell"}
	assert.False(t, i.Cleaned(1), "nothing was cleaned yet")
	assert.False(t, i.LeftAlone(2))
}

// Each row changes one piece of a good file and names what Load must say about it, with the line.
func TestLoadNamesTheLine(t *testing.T) {
	for _, row := range []struct{ old, new, want string }{
		{"vehicle: fleet-17", "vehicle:", ":1: vehicle is missing"},
		{"vehicle: fleet-17", "vehicle: '   '", ":1: vehicle is missing"},
		{"vehicle: fleet-17\n", "", ": vehicle is missing"},
		{"stage: after", "stage: afterwards", `:7: stage "afterwards"`},
		{"stage: after", "stage: after\ncolour: red", `:8: unknown field "colour"`},
		{"    valve: 1\n  - file: more", "    valve: 1\n    vlave: 1\n  - file: more", `:17: unknown field "vlave"`},
		{"stage: after", "stage: after\nstage: before", `:8: "stage" stands twice, first in line 7`},
		{"odometer: 45210 mi", "odometer: 45210", ":6: odometer has no unit"},
		{"odometer: 45210 mi", "odometer:", ":6: odometer is missing"},
		{"odometer: 45210 mi", "odometer: 45210 leagues", `:6: odometer unit "leagues"`},
		{"odometer: 45210 mi", "odometer: 45,21 mi", `:6: odometer "45,21 mi" is not a number`},
		{"odometer: 45210 mi", "odometer: 45210.210 km", `:6: odometer "45210.210 km" may mean thousands: write it without the point`},
		{"vehicle: fleet-17", "vehicle: K\xe4fer", ": not a text in UTF-8"},
		{"odometer: 45210 mi", "odometer: -5 mi", `:6: odometer "-5 mi"`},
		{"odometer: 45210 mi", "odometer: 99999999999 mi", ":6: odometer \"99999999999 mi\" is more than"},
		{"odometer: 45210 mi", "odometer: {value: 3}", ":6: a single value belongs here"},
		{"date: 2026-03-14", "date: 14/03/2026", `:5: date "14/03/2026"`},
		{"date: 2026-03-14", "date: 2026-02-30", `:5: date "2026-02-30"`},
		{"date: 2026-03-14", "date: 0001-01-01", `:5: date "0001-01-01" lies before the year 1900`},
		{"date: 2026-03-14", "date: 0026-03-14", `:5: date "0026-03-14" lies before the year 1900`},
		{"cylinders: 4", "cylinders: 64", `:3: the number of cylinders "64" is not a whole number from 1 to 16`},
		{"cylinders: 4", "cylinders: 2.5", `:3: the number of cylinders "2.5"`},
		{"  valves: 2\n", "", ":2: the number of intake valves of each cylinder is missing"},
		{"  valves: 2", "  valves: 4", `:4: the number of intake valves of each cylinder "4" is not a whole number from 1 to 3`},
		{"  valves: 2", "  valves: 1", `:20: valve "2" is not 1, and there is no other`},
		{"cylinder: 3, valve: 2", "cylinder: 5, valve: 2", `:20: cylinder "5" is not a whole number from 1 to 4`},
		{"cylinder: 3, valve: 2", "cylinder: 3, valve: 3", `:20: valve "3" is not a whole number from 1 to 2`},
		{"cylinder: 3, valve: 2", "cylinder: 3", ":20: valve is missing"},
		{"valve: 2}", "valve: 2, valves: [1, 2]}", ":20: valve and valves both stand here"},
		{"valve: 2}", "valves: [1, 3]}", `:20: valve "3" is not a whole number from 1 to 2`},
		{"valve: 2}", "valves: [2, 2]}", ":20: valve 2 stands twice in valves"},
		{"valve: 2}", "valves: []}", ":20: valve is missing"},
		{"valve: 2}", "valves: 2}", ":20: a list belongs here"},
		{"valve: 2}", "valves: [{}, 1]}", ":20: a single value belongs here"},
		{"file: c3v2.jpg", "file: c1v1.jpg", `:20: photo "c1v1.jpg" was assigned before, in line 14`},
		{"file: c3v2.jpg", "file: ./more/../c1v1.jpg", `:20: photo "c1v1.jpg" was assigned before`},
		{"file: c3v2.jpg", "file: c4v2.jpg", `:20: photo "c4v2.jpg" is not in the folder`},
		{"file: c3v2.jpg", "file: C3V2.JPG", `:20: photo "C3V2.JPG" is not in the folder, but "c3v2.jpg" is`},
		{"file: c3v2.jpg", "file: more/C1v1.jpg", `:20: photo "more/C1v1.jpg" is not in the folder, but "more/c1v1.jpg" is`},
		{"file: c3v2.jpg", "file: more", `:20: photo "more" is not a file`},
		{"file: c3v2.jpg", "file: ../c3v2.jpg", `:20: photo "../c3v2.jpg" is not inside the folder`},
		{"file: c3v2.jpg", "file: /etc/passwd", `:20: photo "/etc/passwd" is not inside the folder`},
		{"  3: solvent", "  7: solvent", `:10: cylinder "7"`},
		{"  3: solvent", "  1: solvent", `:10: "1" stands twice, first in line 9`},
		{"  3: solvent", "  01: solvent", ":9: cylinder 1 stands twice among the methods"},
		{"  3: solvent and brush", "  3:", ":8: cylinder 3 has no method"},
		{"engine:", "engine: [", ":"},
		{"notes: |", "---\nnotes: |", ":12: what stands from here on"},
	} {
		require.Contains(t, whole, row.old)
		dir := folder(t, strings.Replace(whole, row.old, row.new, 1), "c1v1.jpg", "more/c1v1.jpg", "c3v2.jpg")
		_, err := inspection.Load(dir)
		assert.ErrorContains(t, err, inspection.File+row.want, "%q", row.new)
		var fault *inspection.FileError
		assert.ErrorAs(t, err, &fault)
	}
}

// What a Mac wrote has an ä of two signs, which looks like that of one.
func TestNamesThatLookTheSameAreTold(t *testing.T) {
	text := strings.Replace(whole, "file: c3v2.jpg", "file: \u00e4.jpg", 1)
	_, err := inspection.Load(folder(t, text, "c1v1.jpg", "more/c1v1.jpg", "a\u0308.jpg"))
	assert.ErrorContains(t, err, "but a file whose name looks the same is: rename it")
}

func TestByteOrderMarkIsNoPartOfTheFirstKey(t *testing.T) {
	i, err := inspection.Parse("inspection.yaml", []byte("\uFEFF"+strings.ReplaceAll(whole, "\n", "\r\n")))
	require.NoError(t, err)
	assert.Equal(t, "fleet-17", i.Vehicle)
}

func TestLinesAroundOneDocumentAreNoSecondOne(t *testing.T) {
	i, err := inspection.Parse("inspection.yaml", []byte("---\n"+whole+"...\n---\n# end\n"))
	require.NoError(t, err)
	assert.Equal(t, "fleet-17", i.Vehicle)
}

func TestLoadListsAllFaultsInOrder(t *testing.T) {
	text := strings.NewReplacer("odometer: 45210 mi", "odometer: 45210", "cylinder: 3", "cylinder: 9", "stage: after", "stage:").
		Replace(whole)
	_, err := inspection.Load(folder(t, text))
	var fault *inspection.FileError
	require.ErrorAs(t, err, &fault)
	var lines []int
	for _, f := range fault.Faults {
		lines = append(lines, f.Line)
	}
	assert.Equal(t, []int{6, 7, 20}, lines)
}

func TestLoadOfOtherFolders(t *testing.T) {
	_, err := inspection.Load(t.TempDir())
	assert.ErrorIs(t, err, inspection.ErrNone)
	_, err = inspection.Load(folder(t, ""))
	assert.ErrorContains(t, err, "vehicle is missing")
	_, err = inspection.Load(folder(t, "photos:\n !0 "))
	assert.ErrorContains(t, err, "inspection.yaml:2: what begins with !", "a bare tag in place of a list")
	_, err = inspection.Load(folder(t, strings.Repeat("#", 2<<20)))
	assert.ErrorContains(t, err, "larger than 256 KiB")
	_, err = inspection.Load(filepath.Join(t.TempDir(), "nowhere"))
	assert.ErrorIs(t, err, inspection.ErrNone)
}

func TestOdometerInEitherUnit(t *testing.T) {
	o, err := inspection.ParseOdometer("100 000 km")
	require.NoError(t, err)
	// The international mile of 1959 has exactly 1.609344 km.
	assert.InDelta(t, 62137.119223733, o.In(inspection.Miles), 1e-6)
	assert.Equal(t, 100000.0, o.In(inspection.Kilometres))
	assert.InDelta(
		t,
		160934.4,
		inspection.Odometer{Value: 100000, Unit: inspection.Miles}.In(inspection.Kilometres),
		1e-9,
	)
	assert.Equal(t, "100 000 km", o.String())
	o, err = inspection.ParseOdometer("45210.5 km")
	require.NoError(t, err)
	assert.Equal(t, 45210.5, o.Value)
	assert.Equal(t, 24000.0, inspection.Kilometres.Thousands(15000), "24 140 km")
	assert.Equal(t, 15000.0, inspection.Miles.Thousands(15000))
	assert.Equal(t, 15000.0, inspection.Unit("").Thousands(15000), "nobody wrote a unit down")
}

func TestOdometerAsPeopleWriteIt(t *testing.T) {
	for _, text := range []string{"84200 mi", "84,200 mi", "84.200 mi", "84 200 mi", "84\u00a0200 mi", "84'200 mi", "84200 miles", "84200 MI", "84,200.0 Miles", "84200mi", " 84200 mi. "} {
		o, err := inspection.ParseOdometer(text)
		require.NoError(t, err, text)
		assert.Equal(t, inspection.Odometer{Value: 84200, Unit: inspection.Miles}, o, text)
	}
	for _, text := range []string{"1,084,200 km", "1.084.200 km", "1084200 Kilometres", "1 084 200 kilometers", "1084200 Km"} {
		o, err := inspection.ParseOdometer(text)
		require.NoError(t, err, text)
		assert.Equal(t, inspection.Odometer{Value: 1084200, Unit: inspection.Kilometres}, o, text)
	}
	for _, text := range []string{"84,2 mi", "84,20 mi", "8,42,00 mi", "8420,000 mi", ",200 mi", "84200.200 mi", "84,200.200 mi", "84.200.5 mi", "84.20.200 mi", "84.200.000 km", "84200", "84k mi", "84200 m"} {
		_, err := inspection.ParseOdometer(text)
		assert.Error(t, err, text)
	}
}

func TestStageInCapitals(t *testing.T) {
	i, err := inspection.Parse("inspection.yaml", []byte(strings.Replace(whole, "stage: after", "stage: After", 1)))
	require.NoError(t, err)
	assert.Equal(t, inspection.After, i.Stage)
}

func TestSameVehicle(t *testing.T) {
	named := func(name string) *inspection.Inspection { return &inspection.Inspection{Vehicle: name} }
	for _, name := range []string{"My wagon", "my wagon ", "MY  WAGON", "Mywagon"} {
		assert.True(t, inspection.SameVehicle(named("my wagon"), named(name)), name)
	}
	assert.False(t, inspection.SameVehicle(named("my wagon"), named("my wagon 2")))
}

func FuzzParse(f *testing.F) {
	f.Add([]byte(whole))
	f.Add([]byte("photos:\n -\n"))
	f.Add([]byte("a: &a [*a]\n"))
	f.Add([]byte("photos:\n !0 "))
	f.Fuzz(func(t *testing.T, text []byte) {
		i, err := inspection.Parse("inspection.yaml", text)
		if err != nil {
			var fault *inspection.FileError
			assert.ErrorAs(t, err, &fault)
			return
		}
		assert.NotEmpty(t, i.Photos)
	})
}

func TestDraftedFileIsNotOverlooked(t *testing.T) {
	// A draft is complete but for the odometer, and Load says so by its line.
	files := []string{"c1v1.jpg", "c2v1.jpg"}
	dir := folder(t, "", files...)
	draft, err := inspection.Draft(dir, files, inspection.DraftOptions{})
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(filepath.Join(dir, inspection.File), draft.Text, 0o600))
	_, err = inspection.Load(dir)
	var fault *inspection.FileError
	require.ErrorAs(t, err, &fault)
	require.Len(t, fault.Faults, 2)
	assert.Contains(t, fault.Faults[0].Text, "date is missing")
	assert.Contains(t, fault.Faults[1].Text, "odometer is missing")
	assert.Equal(t, "odometer:", strings.Split(string(draft.Text), "\n")[fault.Faults[1].Line-1])
}
