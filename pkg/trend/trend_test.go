package trend_test

import (
	"bytes"
	"encoding/json"
	"image/png"
	"math"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"valvegrade/internal/schema"
	"valvegrade/pkg/engine"
	"valvegrade/pkg/inspection"
	"valvegrade/pkg/measure"
	"valvegrade/pkg/trend"
)

// visit makes an inspection of an engine with one valve a cylinder; day counts from the start of 2026, each index has
// the interval of +-4 points, NaN is not measured.
func visit(day int, odometer float64, unit inspection.Unit, stage inspection.Stage, indices ...float64) *engine.Engine {
	i := &inspection.Inspection{
		Vehicle: "fleet-17", Engine: inspection.Layout{Cylinders: len(indices), Valves: 1}, Stage: stage,
		Date: time.Date(2026, 1, day, 0, 0, 0, 0, time.UTC), Odometer: inspection.Odometer{Value: odometer, Unit: unit},
	}
	var shots []engine.Shot
	for c, index := range indices {
		m := measure.Figure{Value: index, Low: math.Max(0, index-4), High: math.Min(100, index+4)}
		shots = append(
			shots,
			engine.Shot{
				Photo:      inspection.Photo{Cylinder: c + 1, Valve: 1},
				Reading:    measure.Reading{Index: m, Dark: m, Coverage: m},
				Area:       0.2,
				Confidence: 0.9,
			},
		)
	}
	e, err := engine.Combine(i, shots)
	if err != nil {
		panic(err)
	}
	return e
}

func routine(day int, miles float64, indices ...float64) *engine.Engine {
	return visit(day, miles, inspection.Miles, inspection.Routine, indices...)
}

func of(t *testing.T, engines ...*engine.Engine) *trend.Trend {
	t.Helper()
	tr, err := trend.Of(engines, "")
	require.NoError(t, err)
	return tr
}

// find returns a series by its name.
func find(t *testing.T, tr *trend.Trend, name string) trend.Series {
	t.Helper()
	for _, s := range tr.Series {
		if s.Name() == name {
			return s
		}
	}
	t.Fatalf("no series %q", name)
	return trend.Series{}
}

// onlyLine returns the line of cylinder 1, which must be alone.
func onlyLine(t *testing.T, tr *trend.Trend) trend.Line {
	t.Helper()
	lines := find(t, tr, "cylinder 1").Lines
	require.Len(t, lines, 1)
	return lines[0]
}

func TestSeriesOfAnEngine(t *testing.T) {
	tr := of(t, routine(1, 10000, 5, 20, 9), routine(90, 20000, 8, 26, 30))
	var names []string
	for _, s := range tr.Series {
		names = append(names, s.Name())
	}
	assert.Equal(t, []string{
		"worst cylinder", "median cylinder", "cylinder 1", "cylinder 2", "cylinder 3",
		"cylinder 1 valve 1", "cylinder 2 valve 1", "cylinder 3 valve 1",
	}, names)
	worst := find(t, tr, "worst cylinder").Lines[0].Readings
	assert.Equal(t, 20.0, worst[0].Index.Value)
	assert.Equal(t, 30.0, worst[1].Index.Value, "another cylinder is the worst by now")
	assert.Equal(t, 26.0, find(t, tr, "median cylinder").Lines[0].Readings[1].Index.Value)
}

func TestMethodFollowsTheReadings(t *testing.T) {
	known := map[int]trend.Method{2: trend.TwoReadings, 3: trend.SquaresFit, 6: trend.SquaresFit}
	unknown := map[int]trend.Method{3: trend.SquaresFit, 5: trend.SquaresFit, 6: trend.TheilSenFit}
	var engines, bare []*engine.Engine
	for n := 1; n <= 6; n++ {
		index := 2 + 3*float64(n)
		engines = append(engines, routine(10*n, 5000*float64(n), index))
		bare = append(bare, routine(10*n, 5000*float64(n), index))
		bare[n-1].Cylinders[0].Index.Low, bare[n-1].Cylinders[0].Index.High = index, index
		with, without := onlyLine(t, of(t, engines...)), onlyLine(t, of(t, bare...))
		if n == 1 {
			assert.Nil(t, with.Growth)
			assert.Contains(t, with.Missing, "one reading")
			continue
		}
		assert.InDelta(t, 6, with.Growth.Value, 1e-9, "3 points in 5000 mi, %d readings", n)
		if method, named := known[n]; named {
			assert.Equal(t, method, with.Growth.Method)
		}
		if n == 2 {
			assert.Nil(t, without.Growth)
			assert.Contains(t, without.Missing, "no intervals")
			continue
		}
		assert.InDelta(t, 6, without.Growth.Value, 1e-9, "3 points in 5000 mi, %d readings", n)
		if method, named := unknown[n]; named {
			assert.Equal(t, method, without.Growth.Method)
		}
	}
}

func TestReadingsOnALineByChanceAreNoBetterThanTheyAre(t *testing.T) {
	l := onlyLine(t, of(t, routine(1, 10000, 10), routine(50, 20000, 20), routine(90, 30000, 30)))
	// The three lie exactly on a line; their own errors, sd 4/1.96, allow +-4 / sqrt(2) points in 10 000 mi.
	assert.InDelta(t, 10, l.Growth.Value, 1e-9)
	assert.InDelta(t, 10-4/math.Sqrt2, l.Growth.Low, 1e-9)
	assert.InDelta(t, 10+4/math.Sqrt2, l.Growth.High, 1e-9)
}

func TestFortyThousandMilesWithoutGrowthReadNotDistinguishable(t *testing.T) {
	l := onlyLine(t, of(t, routine(1, 30000, 22), routine(300, 70000, 24)))
	assert.Equal(t, trend.NotDistinguishable, l.Growth.Verdict)
	assert.Nil(t, l.Forecast)

	l = onlyLine(t, of(t, routine(1, 30000, 22), routine(300, 70000, 34)))
	assert.Equal(t, trend.Growing, l.Growth.Verdict)
	assert.Contains(t, l.Missing, "two readings")

	l = onlyLine(t, of(t, routine(1, 30000, 34), routine(300, 31000, 2)))
	assert.Contains(t, l.Missing, "no cleaning is on record", "what is amiss comes before what is missing")
}

func TestForecastOnlyWhereTheDataCarryIt(t *testing.T) {
	steady := []*engine.Engine{
		routine(1, 15000, 10),
		routine(50, 30000, 18),
		routine(90, 45000, 26.5),
		routine(130, 50000, 29),
	}
	l := onlyLine(t, of(t, steady...))
	require.NotNil(t, l.Forecast)
	assert.Empty(t, l.Missing)
	f := l.Forecast
	assert.Equal(t, 3, f.Grade)
	assert.InDelta(
		t,
		40,
		l.Growth.Intercept+l.Growth.Slope.Value*f.Odometer.Value,
		1e-9,
		"where the line comes to grade 3",
	)
	assert.Greater(t, f.Odometer.Low, 50000.0)
	assert.Less(t, f.Odometer.Low, f.Odometer.Value)
	assert.Less(t, f.Odometer.Value, f.Odometer.High)

	for want, engines := range map[string][]*engine.Engine{
		"is reached":                {routine(1, 10000, 20), routine(50, 20000, 30), routine(90, 30000, 41)},
		"growth is not sure":        {routine(1, 10000, 20), routine(50, 20000, 23), routine(90, 30000, 21)},
		"falls although no":         {routine(1, 10000, 30), routine(50, 20000, 20), routine(90, 30000, 10)},
		"lies further ahead than 2": {routine(1, 10000, 2), routine(50, 40000, 5), routine(90, 70000, 8)},
	} {
		l := onlyLine(t, of(t, engines...))
		assert.Nil(t, l.Forecast, want)
		assert.Contains(t, l.Missing, want)
	}
}

func TestACleaningStartsANewLine(t *testing.T) {
	tr := of(t,
		routine(1, 10000, 20), visit(60, 40000, inspection.Miles, inspection.Before, 45),
		visit(60, 40000, inspection.Miles, inspection.After, 1), routine(200, 60000, 9),
	)
	lines := find(t, tr, "cylinder 1").Lines
	require.Len(t, lines, 2)
	assert.Len(t, lines[0].Readings, 2)
	assert.Len(t, lines[1].Readings, 2)
	assert.InDelta(t, 4, lines[1].Growth.Value, 1e-9)
	assert.Empty(t, tr.Notes)
}

// The photos of the inspection that shows the engine cleaned may have been refused; the cleaning took place all the
// same.
func TestACleaningWithoutAReadingStartsANewLine(t *testing.T) {
	nothing := visit(60, 40000, inspection.Miles, inspection.After, math.NaN(), 2)
	tr := of(
		t,
		routine(1, 10000, 20, 30),
		routine(50, 35000, 40, 50),
		nothing,
		routine(200, 60000, 9, 8),
		routine(300, 70000, 12, 14),
	)
	for _, name := range []string{"cylinder 1", "cylinder 2", "worst cylinder", "median cylinder"} {
		lines := find(t, tr, name).Lines
		require.Len(t, lines, 2, name)
		assert.Len(t, lines[0].Readings, 2, name)
	}
	assert.Len(t, find(t, tr, "cylinder 1").Lines[1].Readings, 2)
	assert.Len(t, find(t, tr, "cylinder 2").Lines[1].Readings, 3)

	said := of(t, visit(50, 40000, inspection.Miles, inspection.Before, 45, 50), nothing, routine(200, 60000, 9, 8))
	assert.Len(t, find(t, said, "cylinder 1").Lines, 2)
	for _, note := range said.Notes {
		assert.NotContains(t, note, "no inspection shows the engine just cleaned")
	}
}

func TestOnlyCleanedCylindersStartANewLine(t *testing.T) {
	after := visit(60, 40000, inspection.Miles, inspection.After, 1, 22)
	after.Inspection.Methods = map[int]string{1: "blasting"}
	tr := of(t, routine(1, 10000, 20, 10), visit(60, 40000, inspection.Miles, inspection.Before, 45, 20), after)
	assert.Len(t, find(t, tr, "cylinder 1").Lines, 2)
	second := find(t, tr, "cylinder 2").Lines
	require.Len(t, second, 1)
	require.Len(t, second[0].Readings, 2)
	assert.Equal(t, 2, second[0].Readings[1].Inspections, "before and after are two looks at one state")
	assert.InDelta(t, 21, second[0].Readings[1].Index.Value, 1e-9)
	assert.Len(t, find(t, tr, "worst cylinder").Lines, 2)

	after = visit(60, 40000, inspection.Miles, inspection.After, 1, 5)
	after.Inspection.Methods = map[int]string{1: "blasting"}
	fell := of(t, visit(60, 40000, inspection.Miles, inspection.Before, 45, 60), after)
	assert.Contains(t, fell.Notes, "cylinder 2 reads 60, then 5 in two inspections at 40 000 mi: they were combined, but contradict each other; "+
		"if it was cleaned, too, name its method", "that the second is after a cleaning its stage says already")
}

func TestACleaningNobodyPhotographedIsAssumedAndSaid(t *testing.T) {
	tr := of(t, visit(1, 40000, inspection.Miles, inspection.Before, 45), routine(90, 50000, 5))
	assert.Len(t, find(t, tr, "cylinder 1").Lines, 2)
	require.Len(t, tr.Notes, 1)
	assert.Contains(t, tr.Notes[0], "starts a new line")
}

func TestTwoInspectionsAtOneReadingAreCombined(t *testing.T) {
	tr := of(t, routine(1, 10000, 10), routine(90, 20000, 18), routine(91, 20000, 22))
	l := onlyLine(t, tr)
	require.Len(t, l.Readings, 2)
	assert.InDelta(t, 20, l.Readings[1].Index.Value, 1e-9)
	assert.Equal(t, []string{"inspections at 20 000 mi were combined"}, tr.Notes)

	apart := of(t, routine(1, 10000, 10), routine(90, 20000, 12), routine(91, 20000, 60))
	assert.Contains(
		t,
		apart.Notes,
		"cylinder 1 reads 12 and 60 in two inspections at 20 000 mi: they were combined, but contradict each other",
	)
	assert.Contains(t, of(t, routine(90, 20000, 60), routine(91, 20000, 12)).Notes,
		"cylinder 1 reads 60, then 12 in two inspections at 20 000 mi: they were combined, but contradict each other; "+
			"after a cleaning the second is of stage: after", "deposit does not fall by itself")
}

func TestUnitsAreConverted(t *testing.T) {
	tr := of(t, visit(1, 16093.44, inspection.Kilometres, inspection.Routine, 10), routine(90, 20000, 20))
	l := onlyLine(t, tr)
	assert.Equal(t, inspection.Miles, tr.Unit, "that of the last inspection")
	assert.InDelta(t, 10000, l.Readings[0].Odometer, 1e-6)
	assert.InDelta(t, 10, l.Growth.Value, 1e-6)
	require.Len(t, tr.Notes, 1)
	assert.Contains(t, tr.Notes[0], "converted to mi")

	metric, err := trend.Of([]*engine.Engine{routine(1, 10000, 10), routine(90, 20000, 20)}, inspection.Kilometres)
	require.NoError(t, err)
	assert.InDelta(t, 10/1.609344, onlyLine(t, metric).Growth.Value, 1e-3, "of readings in whole kilometres, as they are written")
}

func TestHistoriesThatCannotBe(t *testing.T) {
	other := routine(90, 20000, 20)
	other.Inspection.Vehicle = "fleet-18"
	for want, engines := range map[error][]*engine.Engine{
		trend.ErrNothing:   nil,
		trend.ErrBackwards: {routine(1, 20000, 10), routine(90, 10000, 20)},
		trend.ErrLayout:    {routine(1, 10000, 10), routine(90, 20000, 20, 30)},
		trend.ErrVehicle:   {routine(1, 10000, 10), other},
	} {
		_, err := trend.Of(engines, "")
		assert.ErrorIs(t, err, want)
	}
	_, err := trend.Of([]*engine.Engine{routine(1, 20000, 10), routine(90, 10000, 20)}, "")
	assert.ErrorContains(t, err, "20 000 mi on 2026-01-01, then 10 000 mi on 2026-03-31")
}

func TestTheWorstOfFewerValvesIsNotCompared(t *testing.T) {
	tr := of(t, routine(1, 10000, 10, 50), routine(90, 20000, 14, math.NaN()), routine(150, 30000, 18, 60))
	assert.Len(t, find(t, tr, "worst cylinder").Lines[0].Readings, 2)
	assert.Len(t, find(t, tr, "cylinder 1").Lines[0].Readings, 3)
	assert.Contains(
		t,
		tr.Notes,
		"worst cylinder at 20 000 mi on 2026-03-31 was left out: cylinder 2 valve 1 was not measured, so the figure does not compare",
	)
}

func TestWrittenFormMeetsItsSchema(t *testing.T) {
	for _, tr := range []*trend.Trend{history(t), of(t, routine(1, 10000, 10)), of(t, routine(1, 10000, math.NaN()))} {
		text, err := json.Marshal(tr)
		require.NoError(t, err)
		assert.NoError(t, schema.CheckToday(trend.Schema, text))
	}
	text, err := json.Marshal(history(t))
	require.NoError(t, err)
	assert.Contains(t, string(text), `"forecast":{"estimate":true,"grade":3,"index":40,`)
}

// history is an engine that was cleaned once.
func history(t *testing.T) *trend.Trend {
	return of(
		t,
		routine(1, 15000, 12),
		routine(40, 30000, 22),
		visit(80, 45000, inspection.Miles, inspection.Before, 37),
		visit(
			80,
			45000,
			inspection.Miles,
			inspection.After,
			1.5,
		),
		routine(120, 55000, 8),
		routine(160, 65000, 15),
		routine(200, 75000, 21),
		routine(240, 85000, 27.5),
	)
}

func TestChartIsDrawn(t *testing.T) {
	tr := history(t)
	var svg, picture bytes.Buffer
	s := find(t, tr, "worst cylinder")
	require.NoError(t, tr.WriteChart(&svg, s, "svg"))
	for _, words := range []string{"fleet-17, worst cylinder", "odometer, mi", "estimate: grade 3", "4 caked", "60 000", "cleaned"} {
		assert.Contains(t, svg.String(), words)
	}
	require.NoError(t, tr.WriteChart(&picture, s, "png"))
	config, err := png.DecodeConfig(&picture)
	require.NoError(t, err)
	assert.Greater(t, config.Width, 800)

	empty := of(t, routine(1, 10000, math.NaN()))
	assert.NoError(t, empty.WriteChart(&svg, empty.Series[0], "svg"), "nothing measured is an empty frame")
}
