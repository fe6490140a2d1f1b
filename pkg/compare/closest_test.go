package compare

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"valvegrade/pkg/deposit"
	"valvegrade/pkg/inspection"
	"valvegrade/pkg/score"
)

func TestValvesWithoutAPairAreLeftOutAndNamed(t *testing.T) {
	a, b := before(60, math.NaN(), 50, 40), after(0, 0, 20, 16)
	b.Engine.Inspection.Photos, b.Photos = b.Engine.Inspection.Photos[:2], b.Photos[:2]
	e := engines(t, a, b, exact)
	one, two := e.Cylinders[0], e.Cylinders[1]
	assert.Equal(t, 60.0, one.Index.Before.Value, "only valve 1 counts")
	assert.Contains(t, one.Outcome(), "cylinder 1, shell blasting: dark deposit from 60 % to 0 %, valve 1 alone: 100 % removed")
	assert.Contains(t, one.Outcome(), "valve 2 not compared: b")
	assert.Equal(t, Verdict(""), two.Verdict)
	assert.Equal(t, "cylinder 2, hand tools: valve 1 not compared: the second inspection has no photo of it; "+
		"valve 2 not compared: the second inspection has no photo of it", two.Outcome())
	assert.Equal(t, "photograph every valve at each inspection", e.Notes[len(e.Notes)-1], "once for both")
	assert.NotContains(t, engines(t, a, after(0, 0, 20, 16), exact).Notes, "photograph every valve at each inspection")
	assert.Equal(t, Changed, e.Verdict)

	none := engines(t, before(math.NaN(), math.NaN(), math.NaN(), math.NaN()), b, exact)
	assert.Equal(t, Verdict(""), none.Verdict)
}

// A photo that got into both folders by mistake must not count as a valve on which nothing was removed.
func TestAPhotoInBothInspectionsIsLeftOutOfTheMean(t *testing.T) {
	a, b := before(60, 70, 50, 40), after(0, 0, 20, 16)
	a.Photos[0].SHA256, b.Photos[0].SHA256 = new("one photo"), new("one photo")
	e := engines(t, a, b, exact)
	valve := e.Cylinders[0].Valves[0]
	assert.False(t, valve.Compared)
	assert.Contains(t, codesOf(valve.Reasons), SamePhoto)
	assert.Contains(t, e.Outcome(), "(3 of 4 valves)")
}

func TestPairWithTheMostInCommonIsTaken(t *testing.T) {
	view := func(r *score.Result) *View { return viewOf(t, r) }
	whole, half := plainView(patches).result("whole"), plainView(patches).result("half")
	for i := range half.Region.Mask.Pix {
		if i%side > 240 {
			half.Region.Mask.Pix[i] = 0
		}
	}
	clean := plainView(all(deposit.Bare)).result("clean")
	c := closest(photographed{views: []*View{view(refusedResult("refused")), view(half), view(whole)}}, photographed{views: []*View{view(clean)}}, exact)
	assert.Equal(t, "whole", c.Before.Photo)
	c = closest(photographed{views: []*View{view(refusedResult("refused"))}}, photographed{views: []*View{view(clean)}}, exact)
	assert.Equal(t, PhotoRefused, c.Reasons[0].Code)
}

func TestOfManyPairsThoseThatShowMostAreLaidOnEachOther(t *testing.T) {
	part := func(name string, columns int) *View {
		r := plainView(patches).result(name)
		for i := range r.Region.Mask.Pix {
			if i%side > columns {
				r.Region.Mask.Pix[i] = 0
			}
		}
		return viewOf(t, r)
	}
	clean := []*View{viewOf(t, plainView(all(deposit.Bare)).result("clean"))}
	without := viewOf(t, refusedResult("refused"))
	before := []*View{part("third", 200), part("half", 240), without, part("whole", side)}
	first := func(views []*View) []string {
		var names []string
		for _, p := range pairsOf(views, clean)[:4] {
			names = append(names, p.before.Photo)
		}
		return names
	}
	assert.Equal(t, []string{"third", "half", "refused", "whole"}, first(before), "few keep their order")
	for len(before) <= mostPairs {
		before = append(before, before[0])
	}
	assert.Equal(t, []string{"refused", "whole", "half", "third"}, first(before))
	for _, view := range []*View{before[0], before[1], before[3]} {
		_, weight := overlay(view.Map, clean[0].Map, alignment{})
		assert.InDelta(t, sum(weight), inCommon(view.Map, clean[0].Map), 1e-12, "as they are laid on each other")
	}
}

// Whose photos somebody left out is not asked to photograph the valve as if nobody had.
func TestPhotosLeftOutAreNotToldAsMissing(t *testing.T) {
	out := &inspection.LeftOut{By: "Ann", Reason: "smeared"}
	said := func(first, second bool) string {
		a, b := before(60, 70, 50, 40), after(0, 0, 20, 16)
		if first {
			a.Engine.Inspection.Photos[0].LeftOut = out
		}
		if second {
			b.Engine.Inspection.Photos[0].LeftOut = out
		}
		reasons := engines(t, a, b, exact).Cylinders[0].Valves[0].Reasons
		require.NotEmpty(t, reasons)
		return reasons[0].Advice
	}
	assert.Contains(t, said(true, true), "all photos of it in both inspections were left out")
	assert.Contains(t, said(true, false), "all photos of it in the first inspection were left out")
	assert.Contains(t, said(false, true), "all photos of it in the second inspection were left out")
	one := []*View{{}}
	assert.Equal(t, "neither inspection has a photo of it that counts", lacking(photographed{leftOut: 1}, photographed{}))
	assert.Equal(t, "neither inspection has a photo of it", lacking(photographed{}, photographed{}))
	assert.Equal(t, "the first inspection has no photo of it", lacking(photographed{}, photographed{views: one}))
}

func TestWhatMakesAComparisonBetter(t *testing.T) {
	refused := &Comparison{Common: math.NaN()}
	forced := &Comparison{Compared: true, Forced: true, Common: 0.97}
	unmapped := &Comparison{Compared: true, Common: math.NaN()}
	little, much := &Comparison{Compared: true, Common: 0.5}, &Comparison{Compared: true, Common: 0.9}
	ascending := []*Comparison{refused, forced, unmapped, little, much}
	for i, worse := range ascending {
		assert.False(t, worse.better(worse), "of equals the first is kept")
		for _, better := range ascending[i+1:] {
			assert.True(t, better.better(worse))
			assert.False(t, worse.better(better))
		}
	}
}
