package engine

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"valvegrade/pkg/grade"
	"valvegrade/pkg/measure"
)

// Of the variance of ±20 points the part Shared stays, and of the rest one photo more leaves a half, two thirds, ...
func TestWhatOneMorePhotoBrings(t *testing.T) {
	shot := Shot{Confidence: 1, Area: 0.2, Grades: grade.Probabilities{0, 0.2, 0.3, 0.4, 0.1}}
	shot.Index, shot.Dark = measure.Figure{Value: 40, Low: 20, High: 60}, measure.Figure{Value: 50, Low: 30, High: 70}
	for photos := 1; photos <= 3; photos++ {
		var shots []Shot
		for range photos {
			shots = append(shots, shot)
		}
		v := combine(1, 1, shots)
		assert.InDelta(t, 20*math.Sqrt(Shared+(1-Shared)/float64(photos+1)), v.Further(), 1e-9, "float64 rounding")
		assert.Less(t, v.Further(), halfWidth(v.Dark))
	}
	assert.True(t, math.IsNaN(combine(1, 1, nil).Further()))

	e := Engine{Cylinders: []Cylinder{{Number: 1, Valves: []Valve{combine(1, 1, []Shot{shot})}}}}
	e.noteFurther()
	assert.Equal(t, []string{"cylinder 1 valve 1: one more photo, from the other side, would narrow its dark deposit from ±20 to about ±17 points"}, e.Notes)

	shot.Dark.Low, shot.Dark.High = 45, 55
	sure := Engine{Cylinders: []Cylinder{{Number: 1, Valves: []Valve{combine(1, 1, []Shot{shot})}}}}
	sure.noteFurther()
	assert.Empty(t, sure.Notes, "a point is not worth a photo")
}
