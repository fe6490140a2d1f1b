package compare

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"valvegrade/pkg/deposit"
)

// Common practice (references.md, section 9): hand picking leaves residue; it hides in the fillet and under the guide.
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
	assert.Contains(t, outcome, "most of it at 5 to 7 o'clock")
}

func TestOutcomeOfCrustOnTheStemAlone(t *testing.T) {
	stem := func(_, radius float64) uint8 {
		if radius == 0 { // drawn stems take the class of their foot
			return deposit.Medium
		}
		return deposit.Bare
	}
	c := compareResults(t, plainView(all(deposit.Heavy)).result("a"), plainView(stem).result("b"), exact)
	assert.Regexp(t, `^index 100\.0 to \d+\.\d: \d+ % removed \(\d+ to \d+\), left on the stem \(index 50\)$`, c.Outcome())
}

func TestSentences(t *testing.T) {
	for want, c := range map[string]Change{
		"index 12.0 to 35.0: 23.0 points more (17.3 to 28.7)":                                           changeOf(around(12, 4), around(35, 4), Precision{}),
		"index 40.0 to 37.0: no change that these photos can show (it would have to exceed 5.7 points)": changeOf(around(40, 4), around(37, 4), Precision{}),
		"index 40.0 to 20.0: 50 % removed (38 to 61)":                                                   changeOf(around(40, 4), around(20, 4), Precision{}),
		"index 40.0 to 1.0: 98 % removed (92 to 100), bare":                                             changeOf(around(40, 4), around(1, 2), Precision{}),
		"index 0.0 to 0.0: no change that these photos can show (it would have to exceed 4.0 points)":   changeOf(around(0, 4), around(0, 4), Precision{}),
	} {
		assert.Equal(t, want, c.sentence(""))
	}
}

func TestStretchesOfTheClock(t *testing.T) {
	clock := func(heavy map[int]float64) *Comparison {
		c := &Comparison{Clock: make([]Part, hours)}
		for hour, share := range heavy {
			c.Clock[hour-1].After.Heavy = share
		}
		return c
	}
	for want, heavy := range map[string]map[int]float64{
		"3 o'clock":       {3: 0.5},
		"11 to 1 o'clock": {11: 0.3, 12: 0.5, 1: 0.4, 5: 0.1},
		"4 to 6 o'clock":  {4: 0.3, 5: 0.5, 6: 0.25, 7: 0.2},
		"":                {},
		"12 to 5 o'clock": {12: 1, 1: 1, 2: 1, 3: 1, 4: 1, 5: 1},
		"9 to 10 o'clock": {9: 0.02, 10: 0.03},
		"10 o'clock":      {10: 0.03, 9: 0.001},
	} {
		assert.Equal(t, want, clock(heavy).worstHours())
	}
	everywhere := map[int]float64{}
	for hour := 1; hour <= hours; hour++ {
		everywhere[hour] = 0.4
	}
	assert.Empty(t, clock(everywhere).worstHours(), "all around is no place")
	assert.Empty(t, (&Comparison{}).worstHours(), "clock not known")
}
