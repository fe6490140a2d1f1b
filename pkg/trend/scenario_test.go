package trend_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"valvegrade/pkg/grade"
	"valvegrade/pkg/inspection"
	"valvegrade/pkg/trend"
)

// What workshops know from practice must come out of invented figures that follow it. None of it is a measured law:
// deposit depends on oil, driving and crankcase ventilation, and the odometer alone says little.

// neglected is an engine with long oil changes and short trips, kept one that was looked after and cleaned once.
func neglected(t *testing.T) *trend.Trend {
	return of(
		t,
		routine(1, 12000, 16, 18),
		routine(60, 24000, 33, 36),
		routine(120, 36000, 49, 55),
		routine(150, 42000, 57, 63),
	)
}

func kept(t *testing.T) *trend.Trend {
	return of(
		t,
		routine(1, 30000, 14, 15),
		visit(90, 60000, inspection.Miles, inspection.Before, 27, 29),
		visit(
			90,
			60000,
			inspection.Miles,
			inspection.After,
			1,
			1.5,
		),
		routine(180, 75000, 7, 8),
		routine(240, 90000, 14, 15.5),
		routine(300, 98000, 18, 19),
	)
}

// last returns the reading that an owner has in hand.
func last(t *testing.T, tr *trend.Trend) trend.Reading {
	t.Helper()
	lines := find(t, tr, "worst cylinder").Lines
	readings := lines[len(lines)-1].Readings
	return readings[len(readings)-1]
}

func TestANeglectedEngineGradesWorseAtLowerMileage(t *testing.T) {
	bad, good := last(t, neglected(t)), last(t, kept(t))
	require.Less(t, bad.Odometer, good.Odometer)
	assert.Equal(t, 3, grade.Of(bad.Index).Value)
	assert.Equal(t, 2, grade.Of(good.Index).Value)

	growth := func(tr *trend.Trend) *trend.Growth {
		lines := find(t, tr, "worst cylinder").Lines
		return lines[len(lines)-1].Growth
	}
	assert.Greater(t, growth(neglected(t)).Low, growth(kept(t)).High, "and its growth is faster beyond doubt")
}

func TestDepositComesBackAfterACleaningAndIsCountedFromThere(t *testing.T) {
	lines := find(t, kept(t), "worst cylinder").Lines
	require.Len(t, lines, 2)
	assert.Equal(t, inspection.After, lines[1].Readings[0].Stage)
	assert.Equal(t, 0, grade.Of(lines[1].Readings[0].Index).Value, "blasting leaves bare metal")
	assert.Equal(t, trend.Growing, lines[1].Growth.Verdict)
	// 17.5 points in 38 000 mi since the cleaning. Readings from before it would have drawn the line flat.
	assert.InDelta(t, 4.6, lines[1].Growth.Value, 0.2, "the line is fitted, so it misses the ends by a little")
}

func TestOnlyTheCleanedEngineHasAFutureToForecast(t *testing.T) {
	lines := find(t, kept(t), "worst cylinder").Lines
	assert.Nil(t, lines[0].Forecast, "that deposit is gone")
	assert.Equal(t, "ended by a cleaning", lines[0].Missing)
	require.NotNil(t, lines[1].Forecast)
	assert.Greater(t, lines[1].Forecast.Odometer.Low, 98000.0)

	overdue := find(t, neglected(t), "worst cylinder").Lines[0]
	assert.Nil(t, overdue.Forecast)
	assert.Contains(t, overdue.Missing, "grade 3 is reached")
}

func TestTwoMethodsSideBySideKeepTheirOwnLines(t *testing.T) {
	// Cylinder 1 was blasted; on cylinder 2 hand tools left a rest behind; 3 was left alone.
	after := visit(61, 45000, inspection.Miles, inspection.After, 1, 13, 44)
	after.Inspection.Methods = map[int]string{1: "blasting", 2: "hand tools"}
	tr := of(
		t,
		visit(60, 45000, inspection.Miles, inspection.Before, 46, 45, 44),
		after,
		routine(200, 60000, 7, 20, 52),
	)
	fresh := func(name string) trend.Reading {
		lines := find(t, tr, name).Lines
		return lines[len(lines)-1].Readings[0]
	}
	assert.Equal(t, 0, grade.Of(fresh("cylinder 1").Index).Value)
	assert.Equal(t, 1, grade.Of(fresh("cylinder 2").Index).Value)
	assert.Len(t, find(t, tr, "cylinder 3").Lines, 1, "its deposit was there before and after")
}
