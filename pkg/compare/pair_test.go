package compare

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"valvegrade/pkg/deposit"
	"valvegrade/pkg/score"
)

// port returns the records of a photo that shows a valve for each result, from left to right.
func port(t *testing.T, valves ...*score.Result) []score.Record {
	t.Helper()
	records := make([]score.Record, len(valves))
	for n, r := range valves {
		r.Valve, r.Valves = n+1, len(valves)
		records[n] = recordOf(t, r)
		records[n].Pixels = new(1000 * (n + 1)) // the right one is the largest
	}
	return records
}

func TestPhotosOfAsManyValvesAreComparedFromLeftToRight(t *testing.T) {
	before := port(t, plainView(all(deposit.Heavy)).result("a.jpg"), plainView(all(deposit.Film)).result("a.jpg"))
	after := port(t, plainView(all(deposit.Bare)).result("b.jpg"), plainView(all(deposit.Film)).result("b.jpg"))
	p := Pictures(before, after, exact)
	require.Len(t, p.Valves, 2)
	assert.True(t, p.Compared())
	assert.Equal(t, []Verdict{Changed, NotDistinguishable}, []Verdict{p.Valves[0].Verdict, p.Valves[1].Verdict})
	for _, c := range p.Valves {
		assert.Contains(t, codesOf(c.Reasons), SameOrder)
	}

	d := written(t, p)
	valves := d["valves"].([]any)
	require.Len(t, valves, 2)
	right := valves[1].(map[string]any)
	assert.Equal(t, 2.0, right["valve_in_photo"])
	assert.Equal(t, 2.0, right["before"].(map[string]any)["valve_in_photo"])
	assert.Equal(t, 2.0, right["before"].(map[string]any)["valves_in_photo"])
}

func TestLargestOfDifferentNumbersAreCompared(t *testing.T) {
	before := port(t, plainView(all(deposit.Film)).result("a.jpg"), plainView(all(deposit.Heavy)).result("a.jpg"))
	p := Pictures(before, port(t, plainView(all(deposit.Bare)).result("b.jpg")), exact)
	require.Len(t, p.Valves, 1)
	assert.Equal(t, 2, p.Valves[0].Before.Valve)
	assert.Contains(t, codesOf(p.Valves[0].Reasons), LargestOnly)
	assert.Equal(t, "compared", written(t, p)["status"])
}

func TestPairOfOneValveIsThatComparison(t *testing.T) {
	before, after := port(t, plainView(patches).result("a.jpg")), port(t, plainView(all(deposit.Bare)).result("b.jpg"))
	assert.Equal(t, written(t, Photos(&before[0], &after[0], exact)), written(t, Pictures(before, after, exact)))
}

func TestRefusedValveOfAPairIsNamed(t *testing.T) {
	before := port(t, plainView(patches).result("a.jpg"), refusedResult("a.jpg"))
	p := Pictures(before, port(t, plainView(patches).result("b.jpg"), plainView(patches).result("b.jpg")), exact)
	assert.False(t, p.Compared())
	assert.True(t, p.Valves[0].Compared)
	assert.Contains(t, p.Valves[1].Outcome(), "a.jpg, valve 2 of 2 (out of focus)")
}
