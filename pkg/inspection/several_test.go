package inspection_test

import (
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"valvegrade/pkg/inspection"
)

func TestPhotoOfSeveralValvesStandsForEach(t *testing.T) {
	text := strings.Replace(
		whole,
		"{file: c3v2.jpg, cylinder: 3, valve: 2}",
		"{file: cyl3.jpg, cylinder: 3, valves: [2, 1]}",
		1,
	)
	i, err := inspection.Load(folder(t, text, "c1v1.jpg", "more/c1v1.jpg", "cyl3.jpg"))
	require.NoError(t, err)
	assert.Equal(t, []inspection.Photo{
		{File: "c1v1.jpg", Cylinder: 1, Valve: 1}, {File: "more/c1v1.jpg", Cylinder: 1, Valve: 1},
		{File: "cyl3.jpg", Cylinder: 3, Valve: 1, FromLeft: 2}, {File: "cyl3.jpg", Cylinder: 3, Valve: 2, FromLeft: 1},
	}, i.Photos, "in the order of the engine, though valve 2 stands on the left")
	assert.Equal(t, []string{"c1v1.jpg", "more/c1v1.jpg", "cyl3.jpg"}, i.Files())
	require.Len(t, i.Paths(), 3, "a picture is scored once")
	assert.Equal(t, filepath.Join(i.Dir, "cyl3.jpg"), i.Paths()[2])
}

func TestListOfOneValveIsThatValve(t *testing.T) {
	i, err := inspection.Parse("one", []byte(strings.Replace(whole, "valve: 2}", "valves: [2]}", 1)))
	require.NoError(t, err)
	assert.Equal(t, inspection.Photo{File: "c3v2.jpg", Cylinder: 3, Valve: 2}, i.Photos[2])
}

// A missing photo is told with its own line, whatever stands before it.
func TestMissingPhotoBehindOneOfSeveralValves(t *testing.T) {
	text := strings.Replace(
		whole,
		"    cylinder: 1\n    valve: 1\n  - file: more",
		"    cylinder: 1\n    valves: [1, 2]\n  - file: more",
		1,
	)
	_, err := inspection.Load(folder(t, text, "c1v1.jpg", "more/c1v1.jpg"))
	assert.ErrorContains(t, err, `:20: photo "c3v2.jpg" is not in the folder`)
}

// showing returns options that look at photos, which show so many valves.
func showing(valves map[string]int) inspection.DraftOptions {
	return inspection.DraftOptions{Valves: func(path string) int { return valves[filepath.Base(path)] }}
}

func TestDraftProposesWholeCylinders(t *testing.T) {
	both := func(file string, cylinder int) []inspection.Photo {
		return []inspection.Photo{
			{File: file, Cylinder: cylinder, Valve: 1, FromLeft: 1},
			{File: file, Cylinder: cylinder, Valve: 2, FromLeft: 2},
		}
	}
	files := []string{"cyl2.jpg", "cyl1.jpg", "IMG_1.jpg"}
	i, text := drafted(t, files, showing(map[string]int{"cyl1.jpg": 2, "cyl2.jpg": 2, "IMG_1.jpg": 2}))
	assert.Equal(t, append(both("cyl1.jpg", 1), both("cyl2.jpg", 2)...), i.Photos)
	assert.Equal(t, inspection.Layout{Cylinders: 2, Valves: 2}, i.Engine)
	assert.Contains(t, text, "    valves: [1, 2]  # from left to right")
	assert.Contains(t, text, "as many as the photos show")
	assert.Contains(t, text, `#  - file: "IMG_1.jpg"`, "no cylinder is told")

	// A name that tells a valve says how many a cylinder has at least; photos that show another number are left open.
	for seen, want := range map[int][]inspection.Photo{2: both("cyl1.jpg", 1), 1: nil, 3: nil, 0: nil} {
		i, text = drafted(t, []string{"cyl1.jpg", "c2v2.jpg"}, showing(map[string]int{"cyl1.jpg": seen}))
		assert.Equal(
			t,
			append(want, inspection.Photo{File: "c2v2.jpg", Cylinder: 2, Valve: 2}),
			i.Photos,
			"%d valves in view",
			seen,
		)
		assert.Equal(t, 2, i.Engine.Valves)
		assert.Equal(t, want == nil, strings.Contains(text, `#  - file: "cyl1.jpg"`))
	}
}

// Valve 1 in a name does not say that there is no second one, which photos show.
func TestDraftCountsValvesInViewWhereNamesTellOfOne(t *testing.T) {
	i, text := drafted(t, []string{"cyl1.jpg", "cyl2.jpg", "c3v1.jpg"}, showing(map[string]int{"cyl1.jpg": 2, "cyl2.jpg": 1}))
	assert.Equal(t, []inspection.Photo{
		{File: "cyl1.jpg", Cylinder: 1, Valve: 1, FromLeft: 1}, {File: "cyl1.jpg", Cylinder: 1, Valve: 2, FromLeft: 2},
		{File: "c3v1.jpg", Cylinder: 3, Valve: 1},
	}, i.Photos)
	assert.Equal(t, inspection.Layout{Cylinders: 3, Valves: 2}, i.Engine)
	assert.Contains(t, text, "as many as the photos show")
	assert.Contains(t, text, `#  - file: "cyl2.jpg"`)
}

func TestDraftTakesPhotosOfOneValveAsBefore(t *testing.T) {
	for _, seen := range []int{0, 1} {
		i, text := drafted(
			t,
			[]string{"cyl1.jpg", "cyl2.jpg"},
			showing(map[string]int{"cyl1.jpg": seen, "cyl2.jpg": seen}),
		)
		assert.Equal(
			t,
			[]inspection.Photo{{File: "cyl1.jpg", Cylinder: 1, Valve: 1}, {File: "cyl2.jpg", Cylinder: 2, Valve: 1}},
			i.Photos,
		)
		assert.Contains(t, text, "the highest found in the file names")
	}
	// Where other photos show two, one that shows one valve does not say which.
	i, text := drafted(t, []string{"cyl1.jpg", "cyl2.jpg"}, showing(map[string]int{"cyl1.jpg": 1, "cyl2.jpg": 2}))
	assert.Len(t, i.Photos, 2)
	assert.Contains(t, text, `#  - file: "cyl1.jpg"`)
}

func TestDraftLooksOnlyAtPhotosOfAWholeCylinder(t *testing.T) {
	var seen []string
	o := inspection.DraftOptions{Valves: func(path string) int { seen = append(seen, path); return 9 }}
	p, err := inspection.Draft("fleet 17", []string{"c1v1.jpg", "cyl2.jpg", "IMG_1.jpg"}, o)
	require.NoError(t, err)
	assert.Equal(t, []string{filepath.Join("fleet 17", "cyl2.jpg")}, seen)
	assert.Equal(t, []inspection.Unplaced{{File: "cyl2.jpg", Cylinder: 2, Shows: new(9)}, {File: "IMG_1.jpg"}}, p.Unplaced)
}
