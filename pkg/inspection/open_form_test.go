package inspection

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func whole() *Form {
	return &Form{
		Vehicle: "van 7: the \"blue\" one", Engine: Layout{6, 2}, Banks: [][]int{{1, 3, 5}, {2, 4, 6}}, Date: "2026-05-01",
		Odometer: "84,200 mi", Stage: After, Methods: map[int]string{2: "blasting"}, Notes: "first line\nsecond # no remark",
		Photos: []Entry{
			{File: "b.jpg", Cylinder: 1, Valves: []int{2}},
			{File: "a.jpg", Cylinder: 2, Valves: []int{2, 1}},
			{File: "cyl3/c.jpg", Cylinder: 3, Valves: []int{1}, LeftOut: &LeftOut{"Ann", "smeared"}},
		},
		Overruled: []Overruled{{Cylinder: 1, Valve: 2, Grade: 3, By: "Ann", Reason: "crust under oil"}},
	}
}

func TestAFormReadsAsItWasWritten(t *testing.T) {
	for name, form := range map[string]*Form{
		"whole": whole(), "empty": {}, "engine only": {Engine: Layout{4, 2}},
		"one photo": {Engine: Layout{1, 1}, Photos: []Entry{{File: "x.jpg", Cylinder: 1, Valves: []int{1}}}},
	} {
		t.Run(name, func(t *testing.T) {
			text, err := form.Write(nil)
			require.NoError(t, err)
			back, err := ParseForm(File, text)
			require.NoError(t, err)
			assert.True(t, form.same(back), "%s", text)
		})
	}
}

func TestAWholeFormIsAnInspection(t *testing.T) {
	dir := t.TempDir()
	text, err := whole().Write(nil)
	require.NoError(t, err)
	require.NoError(t, os.MkdirAll(filepath.Join(dir, "cyl3"), 0o755))
	for _, file := range []string{"a.jpg", "b.jpg", "cyl3/c.jpg"} {
		require.NoError(t, os.WriteFile(filepath.Join(dir, file), nil, 0o600))
	}
	require.NoError(t, os.WriteFile(filepath.Join(dir, File), text, 0o600))
	i, err := Load(dir)
	require.NoError(t, err)
	assert.Equal(t, [][]int{{1, 3, 5}, {2, 4, 6}}, i.Banks)
	assert.Equal(t, &LeftOut{"Ann", "smeared"}, i.Photos[3].LeftOut)
	assert.Equal(t, 3, i.Overruling(1, 2).Grade)
	assert.Nil(t, i.Overruling(1, 1))
}

// What somebody wrote by hand stays as it is but for what the form says otherwise.
func TestWritingAFormKeepsRemarksAndOrder(t *testing.T) {
	old := `# our van
vehicle: van 7   # the blue one
# by the dash
odometer: 84200 mi  # read twice
engine:
  cylinders: 2
  valves: 1

date: 2026-05-01
stage: before
photos:
  - {file: a.jpg, cylinder: 1, valve: 1}

# The names of these do not say which valve they show: fill in and take out the #, or delete.
#  - file: "b.jpg"
#    cylinder: 2
#    valve:
#  - file: "c.jpg"
#    cylinder:
#    valve:
`
	form, err := ParseForm(File, []byte(old))
	require.NoError(t, err)
	unchanged, err := form.Write([]byte(old))
	require.NoError(t, err)
	assert.Equal(t, old, string(unchanged))

	form.Odometer = "84300 mi"
	form.Photos = append(form.Photos, Entry{File: "b.jpg", Cylinder: 2, Valves: []int{1}})
	form.Overruled = []Overruled{{2, 1, 0, "Ann", "glare"}}
	text, err := form.Write([]byte(old))
	require.NoError(t, err)
	assert.Equal(t, `# our van
vehicle: van 7   # the blue one
# by the dash
odometer: 84300 mi  # read twice
engine:
  cylinders: 2
  valves: 1

date: 2026-05-01
stage: before
photos:
  - file: "a.jpg"
    cylinder: 1
    valve: 1
  - file: "b.jpg"
    cylinder: 2
    valve: 1

# The names of these do not say which valve they show: fill in and take out the #, or delete.
#  - file: "c.jpg"
#    cylinder:
#    valve:

# Grades that a person gives beside the measured ones
overruled:
  - {cylinder: 2, valve: 1, grade: 0, by: "Ann", reason: "glare"}
`, string(text))

	form.Photos = append(form.Photos, Entry{File: "c.jpg", Cylinder: 2, Valves: []int{1}})
	form.Overruled = nil
	text, err = form.Write(text)
	require.NoError(t, err)
	assert.NotContains(t, string(text), "fill in")
	assert.NotContains(t, string(text), "overruled:")
}

func TestDecisionsNeedNameAndReason(t *testing.T) {
	head := "vehicle: v\nengine: {cylinders: 2, valves: 1}\ndate: 2026-05-01\nodometer: 1 mi\nstage: before\n"
	for entry, fault := range map[string]string{
		"photos:\n  - {file: a.jpg, cylinder: 1, valve: 1, left_out: {by: Ann}}":                                     "left_out needs reason",
		"photos:\n  - {file: a.jpg, cylinder: 1, valve: 1}\noverruled:\n  - {cylinder: 1, valve: 1, grade: 2}":       "overruled needs by",
		"photos:\n  - {file: a.jpg, cylinder: 1, valve: 1}\noverruled:\n  - {cylinder: 1, valve: 1, grade: 5}":       "none of 0 to 4",
		"photos:\n  - {file: a.jpg, cylinder: 1, valve: 1}\noverruled:\n  - {cylinder: 3, valve: 1, grade: 1}":       "from 1 to 2",
		"photos:\n  - {file: a.jpg, cylinder: 1, valve: 1}\nengine: 2":                                               "stands twice",
		"overruled:\n  - {cylinder: 1, valve: 1, grade: 1, by: a, reason: b}\n  - {cylinder: 1, valve: 1, grade: 2}": "overruled twice",
	} {
		_, err := Parse(File, []byte(head+entry))
		assert.ErrorContains(t, err, fault, entry)
	}
	_, err := Parse(File, []byte("engine: {cylinders: 2, valves: 1, banks: [[1]]}\n"))
	assert.ErrorContains(t, err, "banks names 1 of 2 cylinders")
	_, err = Parse(File, []byte("engine: {cylinders: 2, valves: 1, banks: [[1], [1]]}\n"))
	assert.ErrorContains(t, err, "cylinder 1 stands twice in banks")
}

func TestRowsOfCylindersThatNobodyCountedYet(t *testing.T) {
	form, err := ParseForm(File, []byte("engine: {banks: [[1, 3], [2, 4]]}\n"))
	require.NoError(t, err)
	assert.Equal(t, [][]int{{1, 3}, {2, 4}}, form.Banks)
}

func TestRemarksBehindAValueStayWithOneBlankBeforeThem(t *testing.T) {
	old := "vehicle: van 7 # the blue one\nodometer: 84200 mi\t# read twice\n"
	form, err := ParseForm(File, []byte(old))
	require.NoError(t, err)
	form.Vehicle, form.Odometer = "van 8", "84300 mi"
	text, err := form.Write([]byte(old))
	require.NoError(t, err)
	assert.Contains(t, string(text), "vehicle: \"van 8\" # the blue one\nodometer: 84300 mi\t# read twice\n")
}

func TestOrderAndDealing(t *testing.T) {
	order, err := ParseOrder("1.1, 1.2,2.1")
	require.NoError(t, err)
	assert.Equal(t, []Place{{1, 1}, {1, 2}, {2, 1}}, order)
	entries, err := Deal([]string{"a", "b", "c"}, order, 2)
	require.NoError(t, err)
	assert.Equal(t, []Entry{
		{
			File:     "a",
			Cylinder: 1,
			Valves:   []int{1},
		}, {File: "b", Cylinder: 1, Valves: []int{1}}, {File: "c", Cylinder: 1, Valves: []int{2}},
	}, entries)
	_, err = Deal([]string{"a", "b", "c", "d"}, order, 1)
	assert.ErrorContains(t, err, "1 are too many")
	for _, text := range []string{"", "1", "1.4", "17.1", "x.1", "1.1,1.1"} {
		_, err := ParseOrder(text)
		assert.Error(t, err, text)
	}
}

func TestNamesAreComparedAsPeopleDo(t *testing.T) {
	for _, pair := range [][2]string{{"IMG_9.jpg", "IMG_10.jpg"}, {"a2b", "a10b"}, {"a", "b"}, {"a", "ab"}, {"x1", "x01"}} {
		assert.Negative(t, CompareNames(pair[0], pair[1]), pair)
		assert.Positive(t, CompareNames(pair[1], pair[0]), pair)
	}
	assert.Zero(t, CompareNames("a10", "a10"))
}

func FuzzFormsAreWrittenAsTheyRead(f *testing.F) {
	text, _ := whole().Write(nil)
	f.Add(text)
	f.Add([]byte("vehicle: a\nphotos:\n  - {file: a.jpg, cylinder: 1, valve: 1}\n"))
	f.Fuzz(func(t *testing.T, old []byte) {
		form, err := ParseForm(File, old)
		if err != nil {
			return
		}
		form.Notes = "new"
		text, err := form.Write(old)
		if err != nil {
			return // said, and nothing is written
		}
		back, err := ParseForm(File, text)
		require.NoError(t, err)
		assert.True(t, form.same(back))
	})
}
