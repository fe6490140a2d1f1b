package compare

import (
	"encoding/json"
	"math"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"valvegrade/pkg/measure"
	"valvegrade/pkg/region"
	"valvegrade/pkg/score"
)

// The tests of this file hang on how well today's net reads the demo photos, but for TestHandToolsLeaveResidue, which
// takes the true masks.

// views scores demo photos and returns their views by name.
func views(t *testing.T, names ...string) map[string]*View {
	t.Helper()
	scorer, err := score.New(score.Options{Map: true})
	require.NoError(t, err)
	defer scorer.Close()
	found := map[string]*View{}
	for _, name := range names {
		record := score.Largest(scorer.Score(filepath.Join("..", "..", "testdata", name+".jpg"))).Record()
		found[name] = NewView(&record)
	}
	return found
}

// repeats are the re-posed photos of four unchanged valves.
var repeats = [][]string{
	{"series/repeat-1-a", "series/repeat-1-b", "series/repeat-1-c"},
	{"series/repeat-2-a", "series/repeat-2-b", "series/repeat-2-c"},
	{"series/repeat-3-a", "series/repeat-3-b", "series/repeat-3-c"},
	{"series/steady-1-a", "series/steady-1-b"},
}

// TestRepeatability holds that re-posed demo photos are told from changed ones: their differences stay within their
// intervals, in units of which no mean square of ten pairs of four valves (seven degrees of freedom) passes 16.013/7 in
// 97.5 % of cases (chi-square, any table), and next to none is called changed.
func TestRepeatability(t *testing.T) {
	var squares, pairs [2]float64
	changed := 0
	for _, valve := range repeats {
		found := views(t, valve...)
		for i, first := range valve {
			for _, second := range valve[i+1:] {
				c := Views(found[first], found[second], Options{})
				require.True(t, c.Compared, c.Outcome())
				if c.Verdict == Changed {
					t.Logf("%s and %s: %s", first, second, c.Outcome())
					changed++
				}
				for n, change := range []Change{c.Index, c.Dark} {
					squares[n] += math.Pow(change.Difference.Value*measure.Normal975/change.Detectable, 2)
					pairs[n]++
				}
			}
		}
	}
	assert.LessOrEqual(t, changed, 1)
	for n, name := range []string{"index", "dark deposit"} {
		t.Logf("%s: mean square %.2f of what the intervals say, on %v pairs", name, squares[n]/pairs[n], pairs[n])
		assert.Less(t, squares[n]/pairs[n], 16.013/7, name)
	}
}

// A saved result says what its photo does, to the last digit.
func TestSavedResultsSayWhatTheirPhotosSay(t *testing.T) {
	scorer, err := score.New(score.Options{Map: true})
	require.NoError(t, err)
	defer scorer.Close()
	both := func(name string) (photo, saved *View) {
		record := score.Largest(scorer.Score(filepath.Join("..", "..", "testdata", "engine", name+".jpg"))).Record()
		text, err := json.Marshal(record)
		require.NoError(t, err)
		var again score.Record
		require.NoError(t, json.Unmarshal(text, &again))
		return NewView(&record), NewView(&again)
	}
	before, savedBefore := both("cyl4-valve1-before")
	after, savedAfter := both("cyl4-valve1-after")
	photos, saved := Views(before, after, Options{}), Views(savedBefore, savedAfter, Options{})
	assert.Equal(t, written(t, photos), written(t, saved))
	assert.Equal(t, photos.Residue, saved.Residue)
	assert.Equal(t, Changed, photos.Verdict)
}

// Common practice: media blasting returns bare metal.
func TestBlastedValvesOfTheDemoEngineAreBare(t *testing.T) {
	for _, valve := range []string{"engine/cyl1-valve1", "engine/cyl1-valve2"} {
		found := views(t, valve+"-before", valve+"-after")
		c := Views(found[valve+"-before"], found[valve+"-after"], Options{})
		assert.Equal(t, Changed, c.Verdict, "%s: %s", valve, c.Outcome())
		assert.InDelta(t, 0, c.Index.After.Value, 2, "%s; points: grade 0", valve)
		assert.Greater(t, c.Index.Removed().Value, 0.95, valve)
	}
}

// Common practice: hand tools leave residue. Masks are the true ones, outlines were set by hand.
func TestHandToolsLeaveResidue(t *testing.T) {
	before := demo(
		t,
		"engine/cyl2-valve1-before",
		region.Ellipse{
			X:     272,
			Y:     209,
			A:     241,
			B:     214,
			Angle: 47,
		},
		region.Line{X1: 560, Y1: 10, X2: 305, Y2: 190, Width: 110},
	)
	after := demo(
		t,
		"engine/cyl2-valve1-after",
		region.Ellipse{
			X:     402,
			Y:     395,
			A:     257,
			B:     193,
			Angle: 49,
		},
		region.Line{X1: 640, Y1: 40, X2: 408, Y2: 290, Width: 100},
	)
	c := compareResults(t, before, after, Options{})
	require.True(t, c.Compared, c.Outcome())
	assert.Equal(t, Changed, c.Verdict)
	// The true indices of all that the photos show are 53.6 and 24.3.
	assert.InDelta(t, 53.6, c.Index.Before.Value, 5, "points; only what both photos show")
	assert.InDelta(t, 24.3, c.Index.After.Value, 5, "points; only what both photos show")
	for _, zone := range []Zone{Rim, Fillet, Stem} {
		assert.Greater(t, c.Zones[zone].Before.Index(), c.Zones[zone].After.Index(), zone)
		assert.Greater(t, c.Zones[zone].After.Index(), 5.0, "%s: residue is left", zone)
	}
	assert.Contains(t, c.Outcome(), "on the fillet")
	t.Log(c.Outcome(), *c.Registration, c.Common)
}
