package archive_test

import (
	"context"
	"math"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"valvegrade/pkg/archive"
	"valvegrade/pkg/engine"
	"valvegrade/pkg/inspection"
	"valvegrade/pkg/score"
)

var wagon = car{
	name: "blue wagon", day: "2024-05-06", km: 120_000, index: [4]float64{10, 20, 55, 30},
	card: inspection.JobCard{Plate: "QX 417 Z", VIN: "1M8GDM9AXKP042788", Family: "two litre", Job: "2024-0417",
		Technician: "Ann", Wish: "rough idle when cold"},
}

func TestAVisitComesBackAsItWas(t *testing.T) {
	onBoth(t, func(t *testing.T, o archive.Options) {
		a := opened(t, o)
		id := add(t, a, wagon)
		back, err := a.Graded(context.Background(), id, "")
		require.NoError(t, err)
		want := wagon.saved(t, version)
		assert.Equal(t, want.Engine.Inspection.Photos, back.Engine.Inspection.Photos)
		assert.Equal(t, want.Engine.Worst, back.Engine.Worst)
		assert.Equal(t, want.Photos, back.Photos)
		assert.Equal(t, want.Engine.Inspection.Card, back.Engine.Inspection.Card)
		assert.Equal(t, want.Engine.Inspection.Odometer, back.Engine.Inspection.Odometer)
		kept, err := a.Inspection(context.Background(), id)
		require.NoError(t, err)
		assert.Equal(t, 3, *kept.Grade)
		assert.InDelta(t, 28.75, *kept.Dark, 1e-9) // crust is all of the index here: the mean of the four
		worst, err := a.WorstDark(context.Background(), id)
		require.NoError(t, err)
		assert.InDelta(t, 55, *worst, 1e-9)
	})
}

// The grade of an engine is that of the worst of the cylinders that were graded, and these are counted.
func TestCylindersGradedAreCounted(t *testing.T) {
	onBoth(t, func(t *testing.T, o archive.Options) {
		a, ctx := opened(t, o), context.Background()
		c := wagon
		c.index = [4]float64{10, math.NaN(), 55, math.NaN()}
		id := add(t, a, c)
		kept, err := a.Inspection(ctx, id)
		require.NoError(t, err)
		assert.Equal(t, 2, kept.CylindersGraded)
		found, err := a.Find(ctx, wagon.name)
		require.NoError(t, err)
		require.Len(t, found, 1)
		assert.Equal(t, 2, found[0].CylindersGraded)

		c.name, c.card, c.index = "dark van", inspection.JobCard{}, [4]float64{math.NaN(), math.NaN(), math.NaN(), math.NaN()}
		id = add(t, a, c)
		worst, err := a.WorstDark(ctx, id)
		require.NoError(t, err)
		assert.Nil(t, worst)
	})
}

// One picture under two names counts once, as in its folder.
func TestAPictureUnderTwoNamesComesBack(t *testing.T) {
	onBoth(t, func(t *testing.T, o archive.Options) {
		a := opened(t, o)
		c := car{name: "van", day: "2026-05-01", km: 84200, index: [4]float64{30, 40, 50, 60}}
		i := c.facts(t)
		i.Photos = append(i.Photos, inspection.Photo{File: "cyl4-again.jpg", Cylinder: 4, Valve: 1})
		document := score.NewDocument(version)
		document.Photos = c.saved(t, version).Photos
		document.Photos = append(document.Photos, document.Photos[3])
		saved, err := engine.Together(i, document)
		require.NoError(t, err)
		_, id, err := a.Add(t.Context(), archive.FromSaved(saved, "test"))
		require.NoError(t, err)
		back, err := a.Graded(t.Context(), id, "")
		require.NoError(t, err)
		assert.Equal(t, saved.Engine.Worst, back.Engine.Worst)
		assert.Equal(t, saved.Engine.Notes, back.Engine.Notes)
	})
}

func TestAgainChangesNothing(t *testing.T) {
	onBoth(t, func(t *testing.T, o archive.Options) {
		a, ctx := opened(t, o), context.Background()
		id := add(t, a, wagon)
		outcome, again, err := a.Add(ctx, archive.FromSaved(wagon.saved(t, version), "elsewhere"))
		require.NoError(t, err)
		assert.Equal(t, archive.Known, outcome)
		assert.Equal(t, id, again)

		newer := wagon
		newer.index = [4]float64{12, 22, 50, 33}
		outcome, _, err = a.Add(ctx, archive.FromSaved(newer.saved(t, "1.1.0+net.ba9876543210"), ""))
		require.NoError(t, err)
		assert.Equal(t, archive.Beside, outcome)
		first, err := a.Graded(ctx, id, "")
		require.NoError(t, err)
		assert.InDelta(t, 55, first.Engine.Worst.Value, 1e-9, "the earlier results still count")
		other, err := a.Graded(ctx, id, "1.1.0+net.ba9876543210")
		require.NoError(t, err)
		assert.InDelta(t, 50, other.Engine.Worst.Value, 1e-9)

		corrected := wagon
		corrected.notes = "the third was hard to reach"
		outcome, again, err = a.Add(ctx, archive.FromSaved(corrected.saved(t, version), ""))
		require.NoError(t, err)
		assert.Equal(t, archive.Renewed, outcome)
		assert.Equal(t, id, again)
		kept, err := a.Inspection(ctx, id)
		require.NoError(t, err)
		assert.Equal(t, corrected.notes, kept.Notes)
	})
}

// A slip in date or reading that is put right later must leave one inspection, for a photo is one look.
func TestACorrectedDateOrReadingIsTheSameVisit(t *testing.T) {
	onBoth(t, func(t *testing.T, o archive.Options) {
		a, ctx := opened(t, o), context.Background()
		slip := wagon
		slip.km = 12_000
		id := add(t, a, slip)
		right := archive.FromSaved(wagon.saved(t, version), "")
		right.Inspection.Date = right.Inspection.Date.AddDate(1, 0, 0)
		outcome, err := a.Look(ctx, right)
		require.NoError(t, err)
		assert.Equal(t, archive.Corrected, outcome)
		outcome, again, err := a.Add(ctx, right)
		require.NoError(t, err)
		assert.Equal(t, archive.Corrected, outcome)
		assert.Equal(t, id, again)
		kept, err := a.Inspection(ctx, id)
		require.NoError(t, err)
		assert.Equal(t, "2025-05-06", kept.Day)
		assert.InDelta(t, 120_000, kept.Odometer, 1e-9)
		outcome, _, err = a.Add(ctx, right)
		require.NoError(t, err)
		assert.Equal(t, archive.Known, outcome)
		checked, err := a.Check(ctx, archive.CheckOptions{})
		require.NoError(t, err)
		assert.Empty(t, checked.Faults)

		cleaned := wagon // the same day, and photos of its own
		cleaned.stage = inspection.After
		assert.NotEqual(t, id, add(t, a, cleaned))
		later := wagon
		later.day = "2025-05-07"
		assert.NotEqual(t, id, add(t, a, later))
	})
}

// Whoever forgot to say that the engine was cleaned, or said so of the wrong inspection, says it later.
func TestACorrectedStageIsTheSameVisit(t *testing.T) {
	onBoth(t, func(t *testing.T, o archive.Options) {
		a, ctx := opened(t, o), context.Background()
		before, slip := wagon, wagon
		before.stage, before.index = inspection.Before, [4]float64{60, 60, 60, 60}
		add(t, a, before)
		slip.stage, slip.methods = inspection.After, map[int]string{1: "blasting"}
		id := add(t, a, slip)
		methods := func() []archive.Method {
			s, err := a.Statistics(ctx, archive.Filter{}, inspection.Kilometres)
			require.NoError(t, err)
			return s.Methods
		}
		require.Len(t, methods(), 1)
		for _, c := range []struct {
			stage   inspection.Stage
			methods int
		}{{inspection.Routine, 0}, {inspection.After, 1}} {
			right := archive.FromSaved(slip.saved(t, version), "")
			right.Inspection.Stage = c.stage
			outcome, again, err := a.Add(ctx, right)
			require.NoError(t, err)
			assert.Equal(t, archive.Corrected, outcome)
			assert.Equal(t, id, again)
			kept, err := a.Inspection(ctx, id)
			require.NoError(t, err)
			assert.Equal(t, string(c.stage), kept.Stage)
			assert.Len(t, methods(), c.methods, "what the cleaning took off counts as long as there was one")
			checked, err := a.Check(ctx, archive.CheckOptions{})
			require.NoError(t, err)
			assert.Empty(t, checked.Faults)
		}
	})
}

func TestRefusedPhotosAreCounted(t *testing.T) {
	onBoth(t, func(t *testing.T, o archive.Options) {
		a := opened(t, o)
		dark := wagon
		dark.index = [4]float64{math.NaN(), 20, math.NaN(), math.NaN()}
		kept, err := a.Inspection(context.Background(), add(t, a, dark))
		require.NoError(t, err)
		assert.Equal(t, 3, kept.Refused)
		assert.Equal(t, 4, kept.Photos)
		assert.Equal(t, 2, *kept.Grade)
	})
}

func TestFinding(t *testing.T) {
	onBoth(t, func(t *testing.T, o archive.Options) {
		a, ctx := opened(t, o), context.Background()
		add(t, a, wagon)
		other := car{name: "red van", day: "2023-01-01", km: 80_000, index: [4]float64{5, 5, 5, 5},
			card: inspection.JobCard{Plate: "QX 471 Z", Job: "2023-0001", Wish: "whistling noise"}}
		add(t, a, other)
		for text, want := range map[string][]string{
			"qx417z":            {"blue wagon", "red van"}, // the exact one first
			"QX 471-Z":          {"red van", "blue wagon"},
			"QX4I7Z":            {"blue wagon", "red van"}, // I for 1
			"1M8GDM9AXKP042788": {"blue wagon"},
			"042788":            {"blue wagon"}, // the end of the VIN
			"O42788":            {"blue wagon"},
			"1M8GDM9AXKP04278":  {"blue wagon"}, // a letter short
			"wagno":             {"blue wagon"}, // two changed places
			"blue wagn":         {"blue wagon"},
			"wag":               {"blue wagon"}, // its beginning
			"2024-0417":         {"blue wagon"},
			"idle cold":         {"blue wagon"},
			"whistlling":        {"red van"},
			"idle whistling":    nil,
			"nothing like it":   nil,
			"":                  nil,
			"%' OR 1=1 --":      nil,
		} {
			found, err := a.Find(ctx, text)
			require.NoError(t, err, text)
			var names []string
			for _, f := range found {
				names = append(names, f.Reference)
			}
			assert.Equal(t, want, names, text)
		}
		found, err := a.Find(ctx, "2024-0417")
		require.NoError(t, err)
		assert.Equal(t, "2024-05-06", found[0].Last)
		assert.Len(t, found[0].Inspections, 1)
		assert.Equal(t, archive.VINGood, found[0].VINCheck)
	})
}

// Published examples: the first is that of most descriptions of the check digit, whose ninth place is an X; seventeen
// ones have the check digit 1 by arithmetic alone.
func TestCheckDigit(t *testing.T) {
	assert.Equal(t, archive.VINGood, archive.CheckVIN("1M8GDM9AXKP042788"))
	assert.Equal(t, archive.VINGood, archive.CheckVIN("11111111111111111"))
	assert.Equal(t, archive.VINGood, archive.CheckVIN("1m8g dm9a xkp0 42788"))
	assert.Equal(t, archive.VINWrong, archive.CheckVIN("1M8GDM9A1KP042788"))
	assert.Equal(t, archive.VINWrong, archive.CheckVIN("1M8GDM9AXKP04278"))
	assert.Equal(t, archive.VINWrong, archive.CheckVIN("IM8GDM9AXKP042788"))
	assert.Equal(t, archive.NoVIN, archive.CheckVIN("  "))
}

func TestWhatPeopleDecidedIsKept(t *testing.T) {
	onBoth(t, func(t *testing.T, o archive.Options) {
		a, ctx := opened(t, o), context.Background()
		graded := wagon.saved(t, version)
		i := graded.Engine.Inspection
		i.Banks = [][]int{{1, 3}, {2, 4}}
		i.Overruled = []inspection.Overruled{{Cylinder: 3, Valve: 1, Grade: 2, By: "Ann", Reason: "wiped off"}}
		i.Photos[0].LeftOut = &inspection.LeftOut{By: "Bo", Reason: "smeared lens"}
		_, id, err := a.Add(ctx, archive.FromSaved(graded, ""))
		require.NoError(t, err)
		back, err := a.Graded(ctx, id, "")
		require.NoError(t, err)
		assert.Equal(t, i.Banks, back.Engine.Inspection.Banks)
		assert.Equal(t, i.Overruled, back.Engine.Inspection.Overruled)
		assert.Equal(t, i.Photos, back.Engine.Inspection.Photos)
	})
}

func TestAnInspectionThatCannotBeToldFromOthersIsRefused(t *testing.T) {
	a := opened(t, emptyOn(t, "SQLite"))
	for _, spoil := range []func(*inspection.Inspection){
		func(i *inspection.Inspection) { i.Vehicle = "" },
		func(i *inspection.Inspection) { i.Date = time.Time{} },
		func(i *inspection.Inspection) { i.Odometer = inspection.Odometer{} },
	} {
		graded := wagon.saved(t, version)
		spoil(graded.Engine.Inspection)
		_, _, err := a.Add(context.Background(), archive.FromSaved(graded, ""))
		require.ErrorIs(t, err, archive.ErrIncomplete)
	}
}

// On one day and odometer reading the state after the cleaning is the last one, in whatever order the two were added.
func TestTheLastVisitIsTheOneAfterTheCleaning(t *testing.T) {
	onBoth(t, func(t *testing.T, o archive.Options) {
		a, ctx := opened(t, o), context.Background()
		before, after := wagon, wagon
		before.stage, after.stage = inspection.Before, inspection.After
		after.index = [4]float64{1, 1, 1, 1}
		last := add(t, a, after)
		add(t, a, before)
		found, err := a.Find(ctx, wagon.name)
		require.NoError(t, err)
		require.Len(t, found, 1)
		require.NotNil(t, found[0].Grade)
		assert.Equal(t, 0, *found[0].Grade)
		kept, err := a.Inspections(ctx, found[0].ID)
		require.NoError(t, err)
		assert.Equal(t, last, kept[len(kept)-1].ID, "as the vehicle's own list has it")
	})
}
