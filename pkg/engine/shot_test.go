package engine_test

import (
	"encoding/json"
	"math"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"valvegrade/pkg/deposit"
	"valvegrade/pkg/engine"
	"valvegrade/pkg/grade"
	"valvegrade/pkg/inspection"
	"valvegrade/pkg/measure"
	"valvegrade/pkg/score"
)

func TestShotTakesWhatCombiningNeeds(t *testing.T) {
	const photo = `{"photo": "c1v1.jpg", "width": 640, "height": 480, "status": "scored", "index": 32.5, "index_low": 28, "index_high": 37,
		"dark": 60, "dark_low": 50, "dark_high": 66, "probabilities": [0, 0, 0.9, 0.1, 0], "coverage": 75, "coverage_low": 70, "coverage_high": 80, "pixels": 61440, "unreadable": 0.25, "region_confidence": 0.9,
		"build_up": "thin", "thick_share": 20, "thick_share_low": 10, "thick_share_high": 40, "thick_probability": 0.01,
		"sha256": "ab", "taken": "2026-03-14T10:11:12"}`
	var r score.Record
	require.NoError(t, json.NewDecoder(strings.NewReader(photo)).Decode(&r))
	place := inspection.Photo{File: "c1v1.jpg", Cylinder: 1, Valve: 1}
	assert.Equal(t, engine.Shot{
		Photo: place, Reading: measure.Reading{
			Index: measure.Figure{Value: 32.5, Low: 28, High: 37}, Dark: measure.Figure{Value: 60, Low: 50, High: 66},
			Coverage: measure.Figure{Value: 75, Low: 70, High: 80},
		}, Grades: grade.Probabilities{0, 0, 0.9, 0.1, 0},
		Heavy: deposit.MostlyHeavy{Share: measure.Figure{Value: 20, Low: 10, High: 40}, Chance: 0.01}, Asked: true,
		Area: 61440 * 0.75 / (640 * 480), Confidence: 0.9, SHA256: "ab", Taken: new(time.Date(2026, 3, 14, 10, 11, 12, 0, time.UTC)),
	}, engine.ShotOf(place, &r))

	s := engine.ShotOf(place, &score.Record{})
	assert.True(t, math.IsNaN(s.Index.Value) && math.IsNaN(s.Coverage.High), "a refused photo is not measured")
	assert.Zero(t, s.Area)
	assert.False(t, s.Asked)

	r.ThickChance = measure.Rounded(math.NaN(), 2)
	assert.Equal(t, deposit.Thin.Chance(), engine.ShotOf(place, &r).Heavy.Chance, "of versions that wrote a word alone")
	assert.Equal(t, deposit.Thin, deposit.BuildUpOf(deposit.Thin.Chance(), measure.Exactly(60)))
}

func TestEngineTakesOneRecordPerPhoto(t *testing.T) {
	i := &inspection.Inspection{
		Engine: inspection.Layout{Cylinders: 1, Valves: 2},
		Photos: []inspection.Photo{{File: "a.jpg", Cylinder: 1, Valve: 1}, {File: "b.jpg", Cylinder: 1, Valve: 2}},
	}
	var records [2]score.Record
	require.NoError(t, json.Unmarshal([]byte(`{"index": 12, "index_low": 9, "index_high": 15}`), &records[1]))
	g, err := engine.Of(i, &score.Document{Photos: records[:]})
	require.NoError(t, err)
	assert.Equal(t, 2, g.Engine.Cylinders[0].Worst)
	assert.Equal(t, 12.0, g.Engine.Worst.Value)

	_, err = engine.Of(i, &score.Document{Photos: records[:1]})
	assert.ErrorContains(t, err, "results of 1 photos for 2")
}
