package compare

import (
	"math"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"valvegrade/pkg/deposit"
	"valvegrade/pkg/measure"
	"valvegrade/pkg/reason"
	"valvegrade/pkg/region"
	"valvegrade/pkg/score"
	"valvegrade/pkg/unroll"
)

func codesOf(reasons []reason.Reason) []reason.Code {
	var found []reason.Code
	for _, r := range reasons {
		found = append(found, r.Code)
	}
	return found
}

// No change can be seen in one photo given twice, so it is no evidence that there was none.
func TestOnePhotoTwiceIsNotCompared(t *testing.T) {
	r := plainView(patches).result("a.jpg")
	c := compareResults(t, r, r, Options{})
	assert.False(t, c.Compared)
	assert.Empty(t, c.Verdict)
	assert.Equal(t, []reason.Code{SamePhoto}, codesOf(c.Reasons))

	c = compareResults(t, r, r, Options{Force: true})
	assert.True(t, c.Forced)
	assert.Equal(t, NoClaim, c.Verdict)
	assert.Contains(t, c.Outcome(), "both files hold the same photo, so no change is claimed")
	assert.Equal(t, sideBySide(c.Dark.Before, c.Dark.After).record(), c.Dark.record(), "nor from what size on one would be sure")
}

// Photos given the wrong way round make of every cleaning a failure, and only the camera's clock knows.
func TestPhotosTheWrongWayRoundAreCautioned(t *testing.T) {
	early, late := plainView(patches).result("a.jpg"), plainView(all(deposit.Bare)).result("b.jpg")
	first := time.Date(2026, 3, 14, 9, 0, 0, 0, time.UTC)
	second := first.Add(2 * time.Hour)
	early.Taken, late.Taken = &first, &second
	assert.NotContains(t, codesOf(compareResults(t, early, late, Options{}).Reasons), TakenEarlier)
	c := compareResults(t, late, early, Options{})
	assert.True(t, c.Compared)
	assert.Contains(t, codesOf(c.Reasons), TakenEarlier)
	late.Taken = nil
	assert.NotContains(t, codesOf(compareResults(t, late, early, Options{}).Reasons), TakenEarlier, "a clock that tells nothing")
}

func TestOneLookTwiceShowsNoChange(t *testing.T) {
	c := compareResults(t, plainView(patches).result("a.jpg"), plainView(patches).result("b.jpg"), Options{})
	assert.Equal(t, NotDistinguishable, c.Verdict)
	assert.Zero(t, c.Index.Difference.Value)
	assert.Zero(t, c.Coverage.Difference.Value)
	assert.InDelta(t, 1, c.Common, 1e-9, "float64 rounding")
	assert.Empty(t, c.Reasons)
	assert.Equal(t, c.Residue.Before, c.Residue.After)
}

func TestBlastedValveHasChanged(t *testing.T) {
	c := compareResults(t, plainView(patches).result("before"), plainView(all(deposit.Bare)).result("after"), exact)
	assert.Equal(t, Changed, c.Verdict)
	assert.Zero(t, c.Index.After.Value)
	assert.Equal(t, 1.0, c.Index.Removed().Value)
	assert.Equal(
		t,
		[]float64{0, 0, 0},
		[]float64{c.Zones[Rim].After.Index(), c.Zones[Fillet].After.Index(), c.Zones[Stem].After.Index()},
	)
}

// The map must count what the photo shows: a cell weighs as much as the pixels that it stands for.
func TestFiguresOfTheMapAreThoseOfThePhoto(t *testing.T) {
	for name, class := range map[string]func(float64, float64) uint8{
		"patches": patches,
		"one side": func(angle, _ float64) uint8 {
			if angle < 140 {
				return deposit.Heavy
			}
			return deposit.Bare
		},
		"fillet": func(_, radius float64) uint8 {
			if radius < 0.6 {
				return deposit.Medium
			}
			return deposit.Film
		},
	} {
		r := plainView(class).result("a")
		c := compareResults(t, r, plainView(class).result("b"), exact)
		assert.InDelta(
			t,
			r.Deposit.Both.Index.Value,
			c.Index.Before.Value,
			1,
			"%s; points: cells are a degree wide",
			name,
		)
		assert.InDelta(
			t,
			r.Deposit.Both.Coverage.Value,
			c.Coverage.Before.Value,
			1,
			"%s; points: cells are a degree wide",
			name,
		)
	}
}

// A quarter of the valve that only one photo shows must not count, whatever lies on it.
func TestOnlyWhatBothShowIsCompared(t *testing.T) {
	half := func(angle, _ float64) uint8 {
		if angle < 180 {
			return deposit.Heavy
		}
		return deposit.Bare
	}
	whole, hidden := plainView(half).result("a"), plainView(half).result("b")
	for i := range hidden.Region.Mask.Pix {
		if x := i % side; x > 240 { // from 12 to 6 on the clock
			hidden.Region.Mask.Pix[i] = region.Background
		}
	}
	c := compareResults(t, whole, hidden, exact)
	require.True(t, c.Compared)
	assert.InDelta(
		t,
		0,
		c.Index.Before.Value,
		1.5,
		"points: the side that both show is bare; the middle line has width",
	)
	assert.InDelta(t, 0, c.Index.Difference.Value, 0.5, "points")
	assert.InDelta(t, 0.75, c.Common, 0.06, "half of one photo and all of the other, mean; the stem is in the middle")
}

func TestBothPhotosShowTheWholeValveAtMost(t *testing.T) {
	whole := &unroll.Map{Class: make([]uint8, rows*columns), Weight: make([]float64, rows*columns)}
	for cell := range headRows * columns { // all of it near the foot, which moves most
		if cell < 20*columns {
			whole.Weight[cell] = 1 / float64(20*columns)
		}
	}
	most := 0.0
	for _, across := range []float64{-0.1, -0.05, 0, 0.05, 0.1} {
		_, weight := overlay(whole, whole, alignment{across: across})
		most = max(most, sum(weight))
		assert.LessOrEqual(t, inBoth(weight), 1.0)
	}
	assert.Greater(t, most, 1.0, "cells of the second map that lie under several")
}

func TestUnreadablePixelsAreLeftOut(t *testing.T) {
	clean, glare := plainView(all(deposit.Bare)).result("a"), plainView(all(deposit.Bare)).result("b")
	for i, class := range glare.Deposit.Map.Pix {
		if y := i / side; class != deposit.NotValve && y > 330 {
			glare.Deposit.Map.Pix[i] = deposit.Unreadable
		}
	}
	c := compareResults(t, clean, glare, exact)
	assert.Less(t, c.Common, 0.95)
	for i := range c.Residue.Before {
		if (c.Residue.Before[i] <= deposit.Heavy) != (c.Residue.After[i] <= deposit.Heavy) {
			t.Fatalf("cell %d is compared on one side only", i)
		}
	}
}

func TestZonesAndHoursAreWhereTheyAre(t *testing.T) {
	atThree := func(angle, radius float64) uint8 {
		if angle > 75 && angle < 105 && radius > 0.65 {
			return deposit.Heavy
		}
		return deposit.Bare
	}
	c := compareResults(t, plainView(all(deposit.Bare)).result("a"), plainView(atThree).result("b"), exact)
	for hour, p := range c.Clock {
		switch index := p.After.Index(); {
		case hour+1 == 3:
			assert.Greater(t, index, 50.0)
		case hour+1 == 12:
			assert.True(t, math.IsNaN(index) || index == 0, "the stem hides it")
		default:
			assert.InDelta(t, 0, index, 3, "hour %d; points: the edge of a pixel", hour+1)
		}
	}
	assert.Greater(t, c.Zones[Rim].After.Index(), 2.0)
	assert.Zero(t, c.Zones[Fillet].After.Index())
	assert.Zero(t, c.Zones[Stem].After.Index())
	sum := c.Zones[Rim].Share + c.Zones[Fillet].Share + c.Zones[Stem].Share
	assert.InDelta(t, 1, sum, 1e-9, "float64 rounding")
}

// What cannot be one valve is refused; force goes on and says so, except where there is nothing to compare.
func TestRefusals(t *testing.T) {
	good := plainView(patches).result("good.jpg")
	outside := plainView(patches).result("bad.jpg")
	outside.Region.Axis = &region.Line{X1: 240, Y1: 0, X2: 240, Y2: 20, Width: 56}
	thin := plainView(patches)
	thin.stem = &region.Line{X1: 240, Y1: 20, X2: 240, Y2: 230, Width: 18}
	top, bottom := plainView(patches).result("top.jpg"), plainView(patches).result("bottom.jpg")
	for i := range top.Region.Mask.Pix {
		if y := i / side; y > 300 {
			top.Region.Mask.Pix[i] = region.Background
		} else if y < 280 {
			bottom.Region.Mask.Pix[i] = region.Background
		}
	}
	for name, c := range map[string]struct {
		before, after *score.Result
		code          reason.Code
		forcible      bool
	}{
		"first photo refused":  {refusedResult("bad.jpg"), good, PhotoRefused, false},
		"second photo refused": {good, refusedResult("bad.jpg"), PhotoRefused, false},
		"stem outside":         {good, outside, ImpossiblePose, true},
		"other proportions":    {good, thin.result("thin.jpg"), OtherValve, true},
		"little in common":     {top, bottom, LittleInCommon, true},
	} {
		refused := compareResults(t, c.before, c.after, Options{})
		assert.False(t, refused.Compared, name)
		assert.False(t, refused.Forced, name)
		assert.Equal(t, Verdict(""), refused.Verdict, name)
		assert.True(t, math.IsNaN(refused.Index.Difference.Value), name)
		assert.Nil(t, refused.Residue, name)
		require.NotEmpty(t, refused.Reasons, name)
		assert.Equal(t, c.code, refused.Reasons[0].Code, name)

		forced := compareResults(t, c.before, c.after, Options{Force: true})
		assert.Equal(t, c.forcible, forced.Compared, name)
		assert.Equal(t, c.forcible, forced.Forced, name)
		if c.forcible {
			assert.Equal(t, NoClaim, forced.Verdict, name)
			assert.True(t, math.IsNaN(forced.Index.Removed().Value), name)
			assert.False(t, math.IsNaN(forced.Index.Difference.Value), name)
			assert.NotContains(t, forced.Outcome(), "removed", name)
		} else {
			assert.Empty(t, forced.Verdict, name)
		}
		assert.Equal(t, c.code, forced.Reasons[0].Code, name)
	}
}

// What the guide leaves of a stem may be a sliver: shorter than wide, it is no ruler of the head.
func TestAStubOfAStemTellsNoProportion(t *testing.T) {
	stub := plainView(patches)
	stub.stem = &region.Line{X1: 240, Y1: 214, X2: 240, Y2: 230, Width: 18}
	c := compareResults(t, plainView(patches).result("good.jpg"), stub.result("stub.jpg"), Options{})
	assert.True(t, c.Compared)
	assert.NotContains(t, codesOf(c.Reasons), OtherValve)
}

// Of a close-up it is not known which part of the valve it shows; two parts of one valve differ.
func TestValvesWithoutAnOutlineAreComparedWhole(t *testing.T) {
	closeUp := plainView(all(deposit.Heavy))
	closeUp.rim.A, closeUp.rim.B = 900, 700 // the rim is out of the photo all around
	near := closeUp.result("near.jpg")
	near.Region.Ellipse = nil
	parts := Options{Repeatability: &Repeatability{Index: Precision{Parts: 5}}}
	c := compareResults(t, near, plainView(all(deposit.Heavy)).result("far.jpg"), parts)
	require.True(t, c.Compared)
	assert.Equal(t, []reason.Code{NoOutline}, codesOf(c.Reasons))
	assert.Nil(t, c.Residue)
	// 4 points are the interval of either figure, which ends at 100.
	assert.InDelta(t, math.Hypot(4, 5*math.Sqrt2*measure.Normal975), c.Index.Detectable, 1e-9, "float64 rounding")
	assert.Equal(t, Changed, compareResults(t, near, plainView(all(deposit.Bare)).result("far.jpg"), parts).Verdict)
}

func TestForceLeavesNoTraceWhereItWasNotNeeded(t *testing.T) {
	c := compareResults(t, plainView(patches).result("a"), plainView(patches).result("b"), Options{Force: true})
	assert.True(t, c.Compared)
	assert.False(t, c.Forced)
}

// A valve seen from close to the stem and one seen from far away are the same valve.
func TestPerspectiveIsNoOtherValve(t *testing.T) {
	near := plainView(patches)
	near.stem = &region.Line{X1: 240, Y1: 20, X2: 240, Y2: 230, Width: 100}
	c := compareResults(t, plainView(patches).result("a"), near.result("b"), Options{})
	assert.True(t, c.Compared)
}

func TestIntervalsGrowAsLessIsCompared(t *testing.T) {
	whole := measure.Figure{Value: 50, Low: 46, High: 56}
	assert.Equal(t, measure.Figure{Value: 40, Low: 36, High: 46}, carry(whole, 40, 1))
	assert.Equal(t, measure.Figure{Value: 40, Low: 32, High: 52}, carry(whole, 40, 0.25))
	assert.Equal(t, measure.Figure{Value: 3, Low: 0, High: 9}, carry(whole, 3, 1))
}

func TestIntervalsOfAShareCanAllBeTrue(t *testing.T) {
	whole := measure.Reading{
		Index: measure.Figure{Value: 44, Low: 5, High: 60}, Dark: measure.Figure{Value: 84, Low: 60, High: 90},
		Coverage: measure.Figure{Value: 93, Low: 20, High: 100},
	}
	c := carried(whole, measure.Shares{Bare: 0.1, Film: 0.1, Medium: 0.8}, 1)
	assert.InDelta(t, 56, c.Dark.Low, 1e-9)
	assert.Equal(t, c.Dark.Low, c.Coverage.Low)
	assert.Equal(t, c.Dark.Low/2, c.Index.Low)
}

func TestOtherVersionsAreSaid(t *testing.T) {
	a, b := plainView(patches).result("a"), plainView(patches).result("b")
	b.Version = "2+net.other"
	assert.Equal(t, []reason.Code{OtherVersions}, codesOf(compareResults(t, a, b, Options{}).Reasons))
}

func TestLittleRimIsEnoughAndSaid(t *testing.T) {
	before, after := plainView(patches).result("a"), plainView(patches).result("b")
	for i := range after.Region.Mask.Pix { // a tool hides the right third
		if i%side > 320 && after.Region.Mask.Pix[i] == region.Head {
			after.Region.Mask.Pix[i] = region.Background
		} else if after.Region.Mask.Pix[i] == region.Head {
			after.Region.HeadPixels++
		}
	}
	after.Region.Ellipse = nil
	c := compareResults(t, before, after, exact)
	require.True(t, c.Compared, c.Outcome())
	assert.Equal(t, []reason.Code{RoughOutline}, codesOf(c.Reasons))
	assert.InDelta(t, 0, c.Index.Difference.Value, 2, "points")
}
