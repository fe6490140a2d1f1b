package region

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
)

// Runs must be counted as their pixels are one by one.
func TestRunsCountLikeTheirPixels(t *testing.T) {
	random := rand.New(rand.NewPCG(9, 1))
	for range 200 {
		first, n := Point{random.Float64()*100 - 50, random.Float64()*100 - 50}, 1+random.IntN(40)
		var pixels, run scatter
		run.addRun(first, n)
		for i := range n {
			pixels.add(Point{first.X + float64(i), first.Y})
		}
		for _, sum := range [][2]float64{{pixels.xx, run.xx}, {pixels.xy, run.xy}, {pixels.yy, run.yy}} {
			assert.InEpsilon(t, sum[0], sum[1], 1e-9, "float64 rounding")
		}
		at, step := random.Float64()*100, random.Float64()-0.5
		steps := 0
		for math.Floor(at+float64(steps)*step) == math.Floor(at) && steps < 1000 {
			steps++
		}
		if steps < 1000 {
			assert.Equal(t, steps, runWithin(at, step), "from %v by %v", at, step)
		}
	}
	assert.Equal(t, 2, runWithin(4, 0.5), "the next whole number is another slice")
	assert.Equal(t, 1, runWithin(4, -0.5))
	assert.Equal(t, math.MaxInt32, runWithin(4, 0))
}
