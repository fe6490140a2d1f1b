package unroll

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"valvegrade/pkg/region"
)

// The guide may leave a crescent of the stem, which is longer across the stem than along it: its width is not the stem's.
func TestOnlyAStemInViewTellsTheProportion(t *testing.T) {
	head := &region.Ellipse{X: 226, Y: 176, A: 167, B: 160, Angle: 80}
	for name, c := range map[string]struct {
		stem *region.Line
		want float64
	}{
		"stem":     {&region.Line{X1: 226, Y1: -100, X2: 226, Y2: 150, Width: 60}, 334.0 / 60},
		"crescent": {&region.Line{X1: 298, Y1: 194, X2: 224, Y2: 171, Width: 35}, math.NaN()},
	} {
		m := &Map{Proportion: math.NaN(), rim: head, stem: c.stem}
		m.measure()
		assert.InDelta(t, c.want, m.Proportion, 1e-9, "%s: float64 rounding", name)
	}
}
