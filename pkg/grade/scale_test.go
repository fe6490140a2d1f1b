package grade

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"valvegrade/pkg/measure"
)

func TestLimitsBelongUpward(t *testing.T) {
	for _, c := range []struct {
		index float64
		value int
		name  string
	}{
		{0, 0, "bare"}, {1.994, 0, "bare"},
		{2, 1, "film"}, {14.994, 1, "film"},
		{15, 2, "patchy"}, {39.994, 2, "patchy"},
		{40, 3, "crusted"}, {69.994, 3, "crusted"},
		{70, 4, "caked"}, {100, 4, "caked"},
		{39.996, 3, "crusted"}, // written, and graded by whoever reads it, as 40.00
	} {
		want := &Grade{Value: c.value, Name: c.name, Borderline: false, Scale: 1}
		assert.Equal(t, want, Of(measure.Exactly(c.index)), "index %v", c.index)
	}
}

func TestBorderlineWhenTheIntervalCrossesALimit(t *testing.T) {
	for _, c := range []struct {
		low, index, high float64
		borderline       bool
	}{
		{2, 8, 14.99, false},
		{1.99, 8, 14.99, true},
		{2, 8, 15, true}, // 15 is patchy already
		{0, 1, 1.99, false},
		{0, 1, 2, true},
		{0, 50, 100, true}, // over several limits
		{70, 85, 100, false},
		{math.NaN(), 8, 9, true},
		{7, 8, math.NaN(), true},
	} {
		assert.Equal(
			t,
			c.borderline,
			Of(measure.Figure{Value: c.index, Low: c.low, High: c.high}).Borderline,
			"%v in [%v, %v]",
			c.index,
			c.low,
			c.high,
		)
	}
}

func TestGradeNeverFallsAsTheIndexGrows(t *testing.T) {
	last := 0
	for tenth := 0; tenth <= 1000; tenth++ {
		index := float64(tenth) / 10
		value := Of(measure.Exactly(index)).Value
		assert.GreaterOrEqual(t, value, last, "index %v", index)
		last = value
	}
	assert.Equal(t, len(Limits()), last)
	assert.Len(t, Names(), last+1)
}

func TestNoGradeWithoutAnIndex(t *testing.T) {
	assert.Nil(t, Of(measure.Figure{Value: math.NaN(), Low: 0, High: 100}))
}

func TestCallersCannotChangeTheScale(t *testing.T) {
	Limits()[0], Names()[0] = 99, "?"
	assert.Equal(t, &Grade{Value: 1, Name: "film", Scale: 1}, Of(measure.Exactly(5)))
	assert.Equal(t, "bare", Names()[0])
}
