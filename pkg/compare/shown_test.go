package compare

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"valvegrade/internal/number"
	"valvegrade/pkg/grade"
	"valvegrade/pkg/measure"
)

// between is a change between two figures, of which one of more than so many points is sure.
func between(before, after, detectable float64) Change {
	return changeOf(measure.Figure{Value: before}, measure.Figure{Value: after},
		doubt{less: spread{after: detectable * detectable}, more: spread{after: detectable * detectable}})
}

// What stands beside each other agrees: a reader subtracts what is shown.
func TestTheDifferenceShownIsThatOfTheFiguresShown(t *testing.T) {
	assert.Equal(t, -43.0, between(55.4, 11.6, 20).Shown().Value, "not -44, which -43.8 is rounded to")
	assert.Equal(t, 44.0, between(11.6, 55.5, 20).Shown().Value)
	for before := 0.03; before < 100; before += 1.37 {
		for after := 0.02; after < 100; after += 1.13 {
			c := between(before, after, 20)
			shown := number.Shown(c.Shown().Value, 0)
			assert.InDelta(t, c.Difference.Value, shown, 1, "nothing but rounding")
			assert.Equal(t, number.Shown(after, 0)-number.Shown(before, 0), shown)
			index := func(v float64) float64 { return number.Shown(v, grade.Decimals(v)) }
			assert.Equal(t, number.Shown(index(after)-index(before), 0), shown, "an index keeps its grade: %v to %v", before, after)
		}
	}
}

func TestTheDifferenceShownLiesWithinItsInterval(t *testing.T) {
	c := between(55.4, 11.6, 0.1)
	assert.Equal(t, measure.Figure{Value: -44, Low: c.Difference.Low, High: c.Difference.High}, c.Shown())
	side := sideBySide(measure.Figure{Value: 55.4}, measure.Figure{Value: 11.6})
	assert.Equal(t, -43.0, side.Shown().Value, "figures beside each other have no interval")
	assert.True(t, math.IsNaN(unknownChange.Shown().Value))
}

// A change that is sure is never shown as smaller than one that would be.
func TestWhatWouldBeSureIsNoMoreThanWhatIs(t *testing.T) {
	assert.Equal(t, Changed, between(55.4, 11.6, 43.5).Verdict())
	assert.Equal(t, 43.0, between(55.4, 11.6, 43.5).SureAbove())
	assert.Equal(t, 21.0, between(55.4, 11.6, 20.2).SureAbove())
	assert.Equal(t, 45.0, between(55.4, 11.6, 44.2).SureAbove(), "no sure change")
	assert.True(t, math.IsNaN(unknownChange.SureAbove()))
}
