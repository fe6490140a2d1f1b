package compare

import (
	"fmt"
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

// precision gathers what Measured is made of.
type precision struct{ squares, spreads, pairs float64 }

func (p *precision) add(c Change) {
	p.squares += c.Difference.Value * c.Difference.Value
	p.spreads += math.Pow(c.Before.SD(), 2) + math.Pow(c.After.SD(), 2)
	p.pairs++
}

func (p *precision) result() Precision {
	return Precision{DF: 7, SEM: math.Sqrt(p.squares / (2 * p.pairs)), Shared: max(0, 1-p.squares/p.spreads)}
}

// TestRepeatability holds that the re-posed demo photos agree no worse than Measured states: a variance of seven
// degrees of freedom that is measured again exceeds 16.013/7 of the true one in 2.5 % of cases (chi-square, any table).
func TestRepeatability(t *testing.T) {
	var index, coverage precision
	for _, valve := range repeats {
		found := views(t, valve...)
		for i, first := range valve {
			for _, second := range valve[i+1:] {
				c := Views(found[first], found[second], Options{})
				require.True(t, c.Compared, c.Outcome())
				index.add(c.Index)
				coverage.add(c.Coverage)
				assert.Equal(t, NotDistinguishable, c.Verdict, "%s and %s: %s", first, second, c.Outcome())
			}
		}
	}
	t.Logf("measured on %v pairs: index %+v, coverage %+v", index.pairs, index.result(), coverage.result())
	stated := Measured()
	noWorse := func(what string, measured, stated float64) { assert.Less(t, measured/stated, 16.013/7, what) }
	noWorse("SEM of the index, squared", math.Pow(index.result().SEM, 2), math.Pow(stated.Index.SEM, 2))
	noWorse("SEM of the coverage, squared", math.Pow(coverage.result().SEM, 2), math.Pow(stated.Coverage.SEM, 2))
	noWorse("what two indices do not share", index.squares/index.spreads, 1-stated.Index.Shared)
	noWorse("what two coverages do not share", coverage.squares/coverage.spreads, 1-stated.Coverage.Shared)
}

// What a saved result no longer knows must not make the same photos surer.
func TestSavedResultsClaimNoMoreThanTheirPhotos(t *testing.T) {
	scorer, err := score.New(score.Options{Map: true})
	require.NoError(t, err)
	defer scorer.Close()
	both := func(name string) (photo, saved *View) {
		record := score.Largest(scorer.Score(filepath.Join("..", "..", "testdata", "engine", name+".jpg"))).Record()
		photo = NewView(&record)
		record.Map = nil
		return photo, NewView(&record)
	}
	wider := func(name string, photos, saved Change) {
		width := func(i measure.Figure) float64 { return i.High - i.Low }
		// The common part and the whole have other figures, so their intervals differ by more than the share, by a
		// hundredth or so.
		assert.GreaterOrEqual(t, 1.02*width(saved.Difference), width(photos.Difference), name)
		if saved.Verdict() == Changed {
			assert.Equal(t, Changed, photos.Verdict(), name)
		}
	}
	for cylinder := 1; cylinder <= 4; cylinder++ {
		var photos, saved Cylinder
		for valve := 1; valve <= 2; valve++ {
			name := fmt.Sprintf("cyl%d-valve%d", cylinder, valve)
			before, savedBefore := both(name + "-before")
			after, savedAfter := both(name + "-after")
			photos.Valves = append(photos.Valves, Valve{valve, Views(before, after, Options{})})
			saved.Valves = append(saved.Valves, Valve{valve, Views(savedBefore, savedAfter, Options{})})
			wider(name, photos.Valves[valve-1].Index, saved.Valves[valve-1].Index)
			wider(name+", coverage", photos.Valves[valve-1].Coverage, saved.Valves[valve-1].Coverage)
			assert.Greater(t, photos.Valves[valve-1].Common, supposedShare, name)
		}
		photos.conclude(Measured())
		saved.conclude(Measured())
		wider(fmt.Sprintf("cylinder %d", cylinder), photos.Index, saved.Index)
	}
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
