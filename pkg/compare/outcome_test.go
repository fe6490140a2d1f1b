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
		`^dark deposit from 100 % to \d+ %: \d+ % removed \(\d+ to \d+\); index from 100 to \d+, left on the stem \(index 50\)$`,
		c.Outcome(),
	)
}

func TestSentences(t *testing.T) {
	of := func(before, after float64) Change { return change(before, after, off(2, 2, 0)) }
	for want, c := range map[string]Changes{
		"dark deposit from 12 % to 35 %: 23 points more (17 to 29); index from 6 to 18":    {Dark: of(12, 35), Index: of(6, 18)},
		"index from 40 to 20: 50 % removed (38 to 61); dark deposit from 90 % to 88 %":     {Dark: of(90, 88), Index: of(40, 20)},
		"dark deposit from 40 % to 1 %: 98 % removed (88 to 100); index from 20 to 1":      {Dark: of(40, 1), Index: of(20, 1)},
		"index from 39.9 to 14.6: 63 % removed (53 to 74); dark deposit from 90 % to 88 %": {Dark: of(90, 88), Index: of(39.9, 14.6)}, // grades 2 and 1
		"index from 1 to 12: 11 points more (5 to 17); dark deposit from 0 % to 2 %":       {Dark: of(0, 2), Index: of(1, 12)},
		"dark deposit from 40 % to 37 %, index from 20 to 19: no sure change (only one of more than 6 points of dark deposit or 6 points of the index would be sure)": {
			Dark: of(40, 37), Index: of(20, 19),
		},
		"dark deposit from 0 % to 0 %, index from 3 to 0: why": {Dark: sideBySide(around(0, 1), around(0, 1)), Index: sideBySide(around(3, 1), around(0, 1))},
	} {
		assert.Equal(t, want, c.sentence("", "why"))
	}
}

func TestZonesAreNamedTheThickestFirst(t *testing.T) {
	c := &Comparison{
		Compared: true, Changes: Changes{Index: change(60, 17, off(2, 2, 0))},
		Zones: map[Zone]Part{
			Rim:    {Share: 0.2, After: measure.Shares{Heavy: 0.15}},
			Fillet: {Share: 0.7, After: measure.Shares{Heavy: 0.19}},
			Stem:   {Share: 0.1, After: measure.Shares{Heavy: 0.17}},
		},
	}
	assert.Equal(t, "left on the fillet (index 19), on the stem (index 17), on the rim (index 15)", c.rest())
	c.Zones[Rim] = Part{Share: 0.2, After: measure.Shares{Heavy: 0.146}}
	assert.Contains(t, c.rest(), "on the rim (index 14.6)", "grade 1")
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
