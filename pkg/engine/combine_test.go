package engine_test

import (
	"encoding/json"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"valvegrade/pkg/engine"
	"valvegrade/pkg/grade"
	"valvegrade/pkg/inspection"
	"valvegrade/pkg/measure"
)

func shot(cylinder, valve int, index, half, area, confidence float64) engine.Shot {
	m := measure.Figure{Value: index, Low: index - half, High: index + half}
	return engine.Shot{
		Photo:      inspection.Photo{Cylinder: cylinder, Valve: valve},
		Reading:    measure.Reading{Index: m, Dark: m, Coverage: m},
		Grades:     grade.OfInterval(m),
		Area:       area,
		Confidence: confidence,
	}
}

func refused(cylinder, valve int) engine.Shot {
	return engine.Shot{
		Photo: inspection.Photo{Cylinder: cylinder, Valve: valve}, Reading: measure.NoReading(), Refusals: []string{"too dark"},
		Area: math.NaN(), Confidence: math.NaN(),
	}
}

func combined(t *testing.T, cylinders, valves int, shots ...engine.Shot) *engine.Engine {
	t.Helper()
	e, err := engine.Combine(
		&inspection.Inspection{Engine: inspection.Layout{Cylinders: cylinders, Valves: valves}},
		shots,
	)
	require.NoError(t, err)
	return e
}

func TestOnePhotoKeepsItsOwnInterval(t *testing.T) {
	v := combined(t, 1, 1, shot(1, 1, 30, 4, 0.2, 0.9), refused(1, 1)).Cylinders[0].Valves[0]
	assert.Equal(t, 1, v.Used)
	assert.Len(t, v.Shots, 2)
	assert.InDelta(t, 30, v.Index.Value, 1e-12)
	assert.InDelta(t, 26, v.Index.Low, 1e-12)
	assert.InDelta(t, 34, v.Index.High, 1e-12)
	assert.True(t, math.IsNaN(v.Spread))
}

func TestPhotosWeighByAreaAndConfidence(t *testing.T) {
	// Weights 0.3*0.8 = 0.24 and 0.1*0.8 = 0.08, that is 3/4 and 1/4.
	v := combined(t, 1, 1, shot(1, 1, 40, 4, 0.3, 0.8), shot(1, 1, 48, 8, 0.1, 0.8)).Cylinders[0].Valves[0]
	assert.InDelta(t, 42, v.Index.Value, 1e-12)
	// By the rule: the mean half width is 5; S^2 = (3/4 2^2 + 1/4 6^2) / (1 - 10/16) = 32; sum of squared weights
	// 10/16.
	assert.InDelta(t, math.Sqrt(32), v.Spread, 1e-12)
	half := math.Sqrt(engine.Shared*25 + 1.959963984540054*1.959963984540054*32*10/16)
	assert.InDelta(t, 42-half, v.Index.Low, 1e-12)
	assert.InDelta(t, 42+half, v.Index.High, 1e-12)
	assert.False(t, v.Apart)
}

// Four photos that agree leave the shared part of the doubt, and a quarter of the rest.
func TestMorePhotosNarrowTheInterval(t *testing.T) {
	s := shot(1, 1, 30, 10, 0.2, 0.9)
	one := combined(t, 1, 1, s).Cylinders[0].Valves[0]
	four := combined(t, 1, 1, s, s, s, s).Cylinders[0].Valves[0]
	assert.InDelta(t, 10*math.Sqrt(engine.Shared+(1-engine.Shared)/4), four.Index.High-30, 1e-9)
	assert.Greater(t, four.Grades[2], one.Grades[2], "and make the grade surer")
}

func TestPhotosThatContradictAreReported(t *testing.T) {
	e := combined(t, 1, 1, shot(1, 1, 10, 3, 0.2, 0.9), shot(1, 1, 60, 3, 0.2, 0.9))
	v := e.Cylinders[0].Valves[0]
	assert.True(t, v.Apart)
	assert.LessOrEqual(t, v.Index.Low, 10.0, "the interval is wide enough for both")
	assert.GreaterOrEqual(t, v.Index.High, 60.0)
	assert.Contains(t, e.Notes[0], "cylinder 1 valve 1 reads differently")
}

func TestShotsWithoutWeightCountEqually(t *testing.T) {
	v := combined(t, 1, 1, shot(1, 1, 20, 3, 0, 0), shot(1, 1, 30, 3, math.NaN(), 1)).Cylinders[0].Valves[0]
	assert.InDelta(t, 25, v.Index.Value, 1e-12)
}

func TestCylinderIsItsWorstValveAndEngineShowsWorstAndMedian(t *testing.T) {
	e := combined(t, 4, 2,
		shot(1, 1, 10, 2, 1, 1), shot(1, 2, 30, 3, 1, 1),
		shot(2, 1, 50, 2, 1, 1), shot(2, 2, 48, 9, 1, 1),
		refused(3, 1), shot(4, 2, 20, 2, 1, 1),
	)
	assert.Equal(t, 2, e.Cylinders[0].Worst)
	assert.Equal(t, measure.Figure{Value: 30, Low: 27, High: 33}, e.Cylinders[0].Index)
	// The second valve may be the worse one: its high end is 57.
	assert.Equal(t, measure.Figure{Value: 50, Low: 48, High: 57}, e.Cylinders[1].Index)
	assert.Zero(t, e.Cylinders[2].Worst)
	assert.Nil(t, grade.Of(e.Cylinders[2].Index, grade.Probabilities{}), "not measured is not grade 0")
	assert.Equal(t, 2, e.WorstCylinder)
	assert.Equal(t, 50.0, e.Worst.Value)
	assert.Equal(t, 30.0, e.Median.Value, "of 20, 30, 50: cylinder 3 was not measured")
	require.NotNil(t, grade.Of(e.Worst, grade.Probabilities{}))
	assert.Equal(t, 3, grade.Of(e.Worst, grade.Probabilities{}).Value)
	assert.Equal(t, []string{
		"cylinder 3 valve 1 has no photo that could be judged: too dark",
		"cylinder 3 valve 2 has no photo", // and nothing else of the cylinder was graded
		"cylinder 4 valve 1 has no photo: its cylinder is graded without it",
	}, e.Notes)
}

func TestCombineRefusesAValveThatTheEngineLacks(t *testing.T) {
	_, err := engine.Combine(
		&inspection.Inspection{Engine: inspection.Layout{Cylinders: 4, Valves: 1}},
		[]engine.Shot{shot(4, 2, 1, 1, 1, 1)},
	)
	assert.ErrorContains(t, err, "cylinder 4 valve 2")
}

func TestCombinedFiguresStayInOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var shots []engine.Shot
		lowest, highest := 100.0, 0.0
		for range rapid.IntRange(1, 6).Draw(t, "photos") {
			low := rapid.Float64Range(0, 100).Draw(t, "low")
			high := rapid.Float64Range(low, 100).Draw(t, "high")
			value := rapid.Float64Range(low, high).Draw(t, "value")
			lowest, highest = math.Min(lowest, value), math.Max(highest, value)
			m := measure.Figure{Value: value, Low: low, High: high}
			shots = append(shots, engine.Shot{
				Photo: inspection.Photo{Cylinder: 1, Valve: 1}, Reading: measure.Reading{Index: m, Coverage: m},
				Area: rapid.Float64Range(0, 1).
					Draw(t, "area"),
				Confidence: rapid.Float64Range(0, 1).Draw(t, "confidence"),
			})
		}
		e, err := engine.Combine(&inspection.Inspection{Engine: inspection.Layout{Cylinders: 1, Valves: 1}}, shots)
		require.NoError(t, err)
		m := e.Worst
		const rounding = 1e-9 // weights sum to 1 within this
		if m.Value < lowest-rounding || m.Value > highest+rounding || m.Low > m.Value || m.High < m.Value ||
			m.Low < 0 ||
			m.High > 100+rounding {
			t.Fatalf("%+v of %+v", m, shots)
		}
	})
}

func TestIntervalsOfSeveralPhotosCanAllBeTrue(t *testing.T) {
	s := shot(1, 1, 50, 45, 0.2, 0.9)
	s.Dark, s.Coverage = measure.Figure{Value: 80, Low: 60, High: 90}, measure.Figure{Value: 90, Low: 20, High: 95}
	v := combined(t, 1, 1, s, s).Cylinders[0].Valves[0]
	assert.Equal(t, v.Dark.Low, v.Coverage.Low)
	assert.Equal(t, v.Dark.Low/2, v.Index.Low)
	assert.Greater(t, v.Dark.Low, 60.0)
}

// A surer cylinder that reads almost as high does not lend the worst one its lower end: table, report, JSON and trend say
// one interval of it, and one certainty.
func TestTheWorstCylinderHasOneInterval(t *testing.T) {
	e := combined(t, 2, 1, shot(1, 1, 42, 20, 0.2, 0.9), shot(2, 1, 41, 0.5, 0.2, 0.9))
	require.Equal(t, 1, e.WorstCylinder)
	assert.Equal(t, e.Cylinders[0].Index, e.Worst)
	assert.Equal(t, e.Cylinders[0].Grades, e.WorstGrades)
	assert.InDelta(t, 22, e.Worst.Low, 1e-9)
	e.Inspection.Vehicle, e.Inspection.Stage = "x", inspection.Routine
	text, err := json.Marshal(e)
	require.NoError(t, err)
	var written struct {
		Worst     map[string]any
		Cylinders []map[string]any
	}
	require.NoError(t, json.Unmarshal(text, &written))
	for _, key := range []string{"grade", "borderline", "probabilities", "index", "index_low", "index_high"} {
		assert.Equal(t, written.Cylinders[0][key], written.Worst[key], key)
	}
}

// The one cylinder that was graded is the worst and the median, and both say the same of it.
func TestTheMedianOfOneCylinderIsThatCylinder(t *testing.T) {
	surer := shot(1, 2, 66, 24, 1, 1)
	surer.Grades = grade.Probabilities{0, 0, 0.05, 0.35, 0.6}
	e := combined(t, 2, 2, shot(1, 1, 75, 30, 1, 1), surer)
	assert.Equal(t, e.Cylinders[0].Index, e.Median)
	assert.Equal(t, e.Cylinders[0].Grades, e.MedianGrades)
	e = combined(t, 2, 1, shot(1, 1, 75, 30, 1, 1), shot(2, 1, 20, 3, 1, 1))
	assert.Equal(t, grade.OfInterval(e.Median), e.MedianGrades, "of two it is neither's")
}
