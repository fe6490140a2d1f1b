package engine_test

import (
	"math"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"valvegrade/pkg/engine"
	"valvegrade/pkg/inspection"
)

// named gives a shot the name and the content of a file.
func named(s engine.Shot, file, hash string) engine.Shot {
	s.File, s.SHA256 = file, hash
	return s
}

func TestOnePictureUnderSeveralNamesCountsOnce(t *testing.T) {
	e := combined(
		t,
		1,
		1,
		named(
			shot(1, 1, 30, 4, 0.2, 0.9),
			"a.jpg",
			"11",
		),
		named(shot(1, 1, 30, 4, 0.2, 0.9), "b.jpg", "11"),
		named(shot(1, 1, 34, 4, 0.2, 0.9), "c.jpg", "22"),
	)
	v := e.Cylinders[0].Valves[0]
	assert.Equal(t, 2, v.Used)
	assert.Len(t, v.Shots, 3)
	assert.InDelta(t, 32, v.Index.Value, 1e-12, "the mean of two looks")
	assert.Equal(t, []string{`"b.jpg" is the same picture as "a.jpg" and counts once`}, e.Notes)

	alone := combined(
		t,
		1,
		1,
		named(shot(1, 1, 30, 4, 0.2, 0.9), "a.jpg", "11"),
		named(shot(1, 1, 30, 4, 0.2, 0.9), "b.jpg", "11"),
	)
	assert.True(t, math.IsNaN(alone.Cylinders[0].Valves[0].Spread), "one look has no spread")
}

func TestOnePictureOfTwoValvesIsAMistake(t *testing.T) {
	e := combined(
		t,
		1,
		2,
		named(shot(1, 1, 30, 4, 0.2, 0.9), "a.jpg", "11"),
		named(shot(1, 2, 30, 4, 0.2, 0.9), "b.jpg", "11"),
	)
	require.Len(t, e.Notes, 1)
	assert.Contains(t, e.Notes[0], "valve 2 is the same picture as")
}

// Who left the second one out has seen that it is the same.
func TestOnePictureLeftOutIsNoMistake(t *testing.T) {
	for _, valve := range []int{1, 2} {
		out := named(shot(1, valve, 30, 4, 0.2, 0.9), "b.jpg", "11")
		out.LeftOut = &inspection.LeftOut{By: "Ann", Reason: "stands twice"}
		for _, shots := range [][]engine.Shot{
			{named(shot(1, 1, 30, 4, 0.2, 0.9), "a.jpg", "11"), out}, {out, named(shot(1, 1, 30, 4, 0.2, 0.9), "a.jpg", "11")},
		} {
			for _, note := range combined(t, 1, 2, shots...).Notes {
				assert.NotContains(t, note, "same picture")
			}
		}
	}
}

func TestDatesThatLieApart(t *testing.T) {
	at := func(day, hour int) *time.Time { return new(time.Date(2026, 3, day, hour, 0, 0, 0, time.UTC)) }
	i := &inspection.Inspection{Engine: inspection.Layout{Cylinders: 1, Valves: 1}, Date: *at(14, 0)}
	for _, c := range []struct {
		taken *time.Time
		notes int
	}{{nil, 0}, {at(14, 23), 0}, {at(13, 1), 0}, {at(15, 23), 0}, {at(16, 0), 1}, {at(12, 23), 1}} {
		s := shot(1, 1, 30, 4, 0.2, 0.9)
		s.Taken = c.taken
		e, err := engine.Combine(i, []engine.Shot{s})
		require.NoError(t, err)
		assert.Len(t, e.Notes, c.notes, c.taken)
	}
}
