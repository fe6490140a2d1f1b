package compare

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"valvegrade/pkg/deposit"
	"valvegrade/pkg/measure"
)

// Common practice: hand picking leaves residue; it hides in the fillet and under the guide.
func TestResidueInTheFilletIsNamed(t *testing.T) {
	fillet := func(angle, radius float64) uint8 {
		if radius < 0.5 && angle > 135 && angle < 225 {
			return deposit.Heavy
		}
		return deposit.Bare
	}
	c := compareResults(t, plainView(all(deposit.Heavy)).result("a"), plainView(fillet).result("b"), exact)
	outcome := c.Outcome()
	assert.Contains(t, outcome, "left on the ")
	assert.Contains(t, outcome, "fillet (index ")
	assert.NotContains(t, outcome, "rim (")
	assert.Contains(t, outcome, "thickest on the head at 6, 5 and 7 o'clock")
}

func TestOutcomeOfCrustOnTheStemAlone(t *testing.T) {
	stem := func(_, radius float64) uint8 {
		if radius == 0 { // drawn stems take the class of their foot
			return deposit.Medium
		}
		return deposit.Bare
	}
	c := compareResults(t, plainView(all(deposit.Heavy)).result("a"), plainView(stem).result("b"), exact)
	assert.Regexp(
		t,
		`^index 100\.0 to \d+\.\d: \d+ % removed \(\d+ to \d+\), left on the stem \(index 50\)$`,
		c.Outcome(),
	)
}

func TestSentences(t *testing.T) {
	for want, c := range map[string]Change{
		"index 12.0 to 35.0: 23.0 points more (17.3 to 28.7)":                                   changeOf(around(12, 4), around(35, 4), Precision{}),
		"index 40.0 to 37.0: no sure change (one of more than 5.7 points would have been seen)": changeOf(around(40, 4), around(37, 4), Precision{}),
		"index 40.0 to 20.0: 50 % removed (38 to 61)":                                           changeOf(around(40, 4), around(20, 4), Precision{}),
		"index 40.0 to 1.0: 98 % removed (92 to 100)":                                           changeOf(around(40, 4), around(1, 2), Precision{}),
		"index 0.0 to 0.0: no sure change (one of more than 4.0 points would have been seen)":   changeOf(around(0, 4), around(0, 4), Precision{}),
	} {
		assert.Equal(t, want, c.sentence(""))
	}
}

func TestZonesAreNamedTheThickestFirst(t *testing.T) {
	c := &Comparison{
		Compared: true, Index: changeOf(around(60, 4), around(17, 4), Precision{}),
		Zones: map[Zone]Part{
			Rim:    {Share: 0.2, After: measure.Shares{Heavy: 0.15}},
			Fillet: {Share: 0.7, After: measure.Shares{Heavy: 0.19}},
			Stem:   {Share: 0.1, After: measure.Shares{Heavy: 0.17}},
		},
	}
	assert.Equal(t, "left on the fillet (index 19), on the stem (index 17), on the rim (index 15)", c.rest())
	c.Zones[Rim] = Part{Share: 0.2, After: measure.Shares{Heavy: 0.01}}
	assert.NotContains(t, c.rest(), "rim", "bare on the scale")
}

func TestThickestHours(t *testing.T) {
	clock := func(heavy map[int]float64) *Comparison {
		c := &Comparison{Clock: make([]Part, hours)}
		for hour, share := range heavy {
			c.Clock[hour-1].After.Heavy = share
		}
		return c
	}
	for _, row := range []struct {
		heavy map[int]float64
		want  []int
	}{
		{map[int]float64{3: 0.5}, []int{3}},
		{map[int]float64{11: 0.3, 12: 0.5, 1: 0.4, 5: 0.1}, []int{12, 1, 11}},
		{map[int]float64{10: 0.03, 9: 0.001}, []int{10}},
		{map[int]float64{1: 1, 2: 1, 3: 1, 4: 1, 5: 1, 6: 1}, []int{1, 2, 3}},
	} {
		assert.Equal(t, row.want, clock(row.heavy).Thickest())
	}
	everywhere := map[int]float64{}
	for hour := 1; hour <= hours; hour++ {
		everywhere[hour] = 0.4
	}
	assert.Empty(t, clock(everywhere).Thickest(), "all around is no place")
	assert.Empty(t, clock(nil).Thickest(), "bare")
	assert.Empty(t, (&Comparison{}).Thickest(), "clock not known")
}

func TestEveryRefusalIsTold(t *testing.T) {
	c := compareResults(t, refusedResult("a"), refusedResult("b"), exact)
	assert.Regexp(t, `^not compared: a \(.*; b \(`, c.Outcome())
}

func TestListed(t *testing.T) {
	assert.Equal(
		t,
		[]string{"11", "11 and 1", "11, 1 and 10"},
		[]string{listed([]int{11}), listed([]int{11, 1}), listed([]int{11, 1, 10})},
	)
}
