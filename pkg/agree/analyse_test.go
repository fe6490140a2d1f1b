package agree_test

import (
	"bytes"
	"encoding/json"
	"image/png"
	"math"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"valvegrade/internal/chart"
	"valvegrade/internal/ratings"
	"valvegrade/internal/schema"
	"valvegrade/pkg/agree"
	"valvegrade/pkg/grade"
)

const threeRaters = "testdata/three-raters.csv"

func analyse(t *testing.T, reference string) *agree.Agreement {
	t.Helper()
	file, err := os.Open(threeRaters)
	require.NoError(t, err)
	defer file.Close()
	list, err := ratings.Read(threeRaters, file)
	require.NoError(t, err)
	a, err := agree.Analyse(list, reference)
	require.NoError(t, err)
	return a
}

// Two valves of one photo are two things that were rated.
func TestValvesOfOnePhotoAreComparedByThemselves(t *testing.T) {
	var list []agree.Rating
	for place, grades := range map[int][2]int{1: {0, 0}, 2: {4, 3}} {
		for n, rater := range []string{"bench", "program"} {
			r := agree.Rating{Photo: "port.jpg", ValveInPhoto: place, Rater: rater, Grade: grades[n], Index: math.NaN()}
			r.Valve = r.Item()
			list = append(list, r)
		}
	}
	a, err := agree.Analyse(list, "")
	require.NoError(t, err)
	assert.Equal(t, 2, a.Photos)
	require.Len(t, a.Pairs, 1)
	assert.Equal(t, 2, a.Pairs[0].Photos)
	assert.Equal(t, 1, a.Pairs[0].Table[0][0])
	assert.Empty(t, a.Repeats, "neither was rated twice")
}

func TestAnalyseComparesEachWithEach(t *testing.T) {
	a := analyse(t, "")
	assert.Equal(t, 16, a.Photos)
	assert.Equal(t, []string{"bench", "apprentice", "program"}, a.Raters)
	require.Len(t, a.Pairs, 3)
	p := a.Pairs[0]
	assert.Equal(t, "bench", p.First)
	assert.Equal(t, "apprentice", p.Second)
	assert.Equal(t, 15, p.Photos, "the apprentice did not rate the last photo")
	assert.Equal(t, p.Photos, p.Table.Total())
	require.NotNil(t, a.Fleiss)
	require.NotNil(t, a.ICC)
	assert.Equal(t, 15, a.ICC.Items)
}

func TestAnalyseAgainstAReference(t *testing.T) {
	a := analyse(t, "program")
	require.Len(t, a.Pairs, 2)
	for _, p := range a.Pairs {
		assert.Equal(t, "program", p.Second)
	}
	bench := a.Pairs[0]
	require.NotNil(t, bench.Index)
	// The list was made with bench - program = 1, -1, 2, 0 over and over: mean 0.5, sd sqrt(20/15) of 16 photos.
	assert.InDelta(t, 0.5, bench.Index.Limits.Bias.Value, 1e-12)
	assert.InDelta(t, math.Sqrt(20./15), bench.Index.Limits.SD, 1e-12)
}

func TestRepeatsCountTowardsRepeatabilityOnly(t *testing.T) {
	a := analyse(t, "")
	require.Len(t, a.Repeats, 1)
	r := a.Repeats[0]
	assert.Equal(t, "bench", r.Rater)
	assert.Equal(t, "index", r.Of)
	assert.Equal(t, 2, r.Items)
	// Two valves rated twice, 2 and 4 points apart: sqrt((2^2 + 4^2) / (2*2)).
	assert.InDelta(t, math.Sqrt(20./4), r.SD.Value, 1e-12)
	require.NotNil(t, a.Precision)
}

func TestOrderOfRepeatedRatingsDoesNotMatter(t *testing.T) {
	for _, row := range []struct {
		grades []string
		same   int
	}{{[]string{"3", "0"}, 1}, {[]string{"0", "3"}, 1}, {[]string{"3", "0", "0"}, 0}, {[]string{"0", "3", "0"}, 0}, {[]string{"3", "4", "0"}, 1}} {
		text := "photo,rater,grade\np,program,3\n"
		for _, grade := range row.grades {
			text += "p,Ann," + grade + "\n"
		}
		list, err := ratings.Read("r.csv", strings.NewReader(text))
		require.NoError(t, err)
		a, err := agree.Analyse(list, "program")
		require.NoError(t, err)
		assert.Equal(t, row.same, a.Pairs[0].Same.Count, row.grades)
		assert.Contains(t, a.Notes[0], "Ann rated p ", row.grades)
		assert.Equal(t, len(row.grades), a.Repeats[0].Ratings, "all count in the repeatability")
	}
}

func TestPhotosOfOneValveAreRepeats(t *testing.T) {
	list, err := ratings.Read(
		"r.csv",
		strings.NewReader("photo;rater;valve;grade\na.jpg;program;c1v1;2\nb.jpg;program;c1v1;3\n"),
	)
	require.NoError(t, err)
	a, err := agree.Analyse(list, "")
	require.NoError(t, err)
	require.Len(t, a.Repeats, 1)
	assert.Equal(t, "grade", a.Repeats[0].Of, "no index was given")
	assert.InDelta(t, math.Sqrt(0.5), a.Repeats[0].SD.Value, 1e-12)
	assert.Contains(t, a.Notes, "one rater: agreement needs a second")
}

func TestAnalyseSaysWhatCannotBeComputed(t *testing.T) {
	ratings := []agree.Rating{
		{
			Photo: "a",
			Valve: "a",
			Rater: "one",
			Grade: 2,
			Index: math.NaN(),
		}, {Photo: "a", Valve: "a", Rater: "two", Grade: 2, Index: math.NaN()},
		{Photo: "b", Valve: "b", Rater: "three", Grade: 1, Index: math.NaN()},
	}
	a, err := agree.Analyse(ratings, "")
	require.NoError(t, err)
	assert.Contains(t, a.Notes, "one and two used one and the same grade throughout: kappa is not defined")
	assert.Contains(t, a.Notes, "one and three have no photo in common")
	assert.Contains(t, strings.Join(a.Notes, "\n"), "one and two have so few photos in common")
	assert.Contains(t, a.Notes, "no photo was rated by all 3 raters: no joint kappa")
	assert.Nil(t, a.Pairs[0].Index)
	var svg bytes.Buffer
	require.NoError(t, a.Pairs[0].WriteChart(&svg, "svg"))
	assert.Contains(t, svg.String(), "grade by two", "without indices the chart shows the grades")
	assert.Contains(t, svg.String(), "2 patchy")

	_, err = agree.Analyse(ratings, "nobody")
	assert.ErrorContains(t, err, `nobody named "nobody"`)
	_, err = agree.Analyse([]agree.Rating{{Photo: "a", Rater: "one", Grade: 7}}, "")
	assert.ErrorContains(t, err, "grade 7")
}

func TestGradesAreThoseOfTheScale(t *testing.T) {
	assert.Len(t, grade.Names(), agree.Grades)
}

func TestWrittenFormMeetsItsSchema(t *testing.T) {
	single, err := agree.Analyse(
		[]agree.Rating{{Photo: "a", Valve: "a", Rater: "one", Grade: 2, Index: math.NaN()}},
		"",
	)
	require.NoError(t, err)
	for _, a := range []*agree.Agreement{analyse(t, ""), analyse(t, "program"), single} {
		text, err := json.Marshal(a)
		require.NoError(t, err)
		assert.NoError(t, schema.CheckToday(agree.Schema, text))
	}
}

func TestChartIsDrawn(t *testing.T) {
	pair := analyse(t, "program").Pairs[1]
	var svg, picture bytes.Buffer
	require.NoError(t, pair.WriteChart(&svg, "svg"))
	assert.Contains(t, svg.String(), "apprentice against program, 15 photos")
	assert.Contains(t, svg.String(), "upper limit")
	require.NoError(t, pair.WriteChart(&picture, "png"))
	config, err := png.DecodeConfig(&picture)
	require.NoError(t, err)
	assert.Greater(t, config.Width, 600)
	assert.ErrorIs(t, pair.WriteChart(&svg, "gif"), chart.ErrFormat)
}

// Raters who never differ have a bias without an interval, and a chart of it.
func TestChartOfRatersWhoAreAlike(t *testing.T) {
	var list []agree.Rating
	for _, photo := range []string{"a.jpg", "b.jpg"} {
		for _, rater := range []string{"Ann", "Ben"} {
			list = append(list, agree.Rating{Photo: photo, Rater: rater, Valve: photo, Grade: 2, Index: 20})
		}
	}
	a, err := agree.Analyse(list, "")
	require.NoError(t, err)
	var svg bytes.Buffer
	require.NoError(t, a.Pairs[0].WriteChart(&svg, "svg"))
	assert.Contains(t, svg.String(), "bias +0.0")
	assert.NotContains(t, svg.String(), "NaN")
}
