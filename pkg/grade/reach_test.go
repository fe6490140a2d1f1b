package grade

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"valvegrade/pkg/measure"
)

func TestReachOfAnInterval(t *testing.T) {
	lowest, highest := Reach(measure.Figure{Value: 43, Low: 14.99, High: 70})
	assert.Equal(t, []int{1, 4}, []int{lowest, highest})
	lowest, highest = Reach(measure.Figure{Value: 20, Low: 15, High: 39.9})
	assert.Equal(t, []int{2, 2}, []int{lowest, highest})
}
