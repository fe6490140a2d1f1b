package terminal

import (
	"bytes"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"valvegrade/pkg/engine"
	"valvegrade/pkg/inspection"
	"valvegrade/pkg/trend"
)

func TestTrendHasARowForEachLine(t *testing.T) {
	var engines []*engine.Engine
	for n, index := range []float64{30, 1, 8, 15.5, 22} {
		i := facts()
		i.Date = i.Date.AddDate(0, n, 0)
		i.Odometer.Value += 10000 * float64(max(0, n-1))
		i.Stage = []inspection.Stage{inspection.Before, inspection.After, inspection.Routine, inspection.Routine, inspection.Routine}[n]
		engines = append(engines, inspected(t, i, []float64{index}, []float64{math.NaN()}))
	}
	tr, err := trend.Of(engines, "")
	require.NoError(t, err)
	var out bytes.Buffer
	require.NoError(t, Trend(&out, tr, false, 80))
	assert.Equal(t, `fleet-17; growth per 10 000 mi

95 %              READINGS  ODOMETER, mi     INDEX   GROWTH            VERDICT
worst cylinder    1         45 210           30      -                 -
  after cleaning  4         45 210 → 75 210  1 → 22  7.1 (5.2 to 8.3)  growing
median cylinder   1         45 210           30      -                 -
  after cleaning  4         45 210 → 75 210  1 → 22  7.1 (5.2 to 8.3)  growing
cylinder 1        1         45 210           30      -                 -
  after cleaning  4         45 210 → 75 210  1 → 22  7.1 (5.2 to 8.3)  growing
cylinder 2        none      -                -       -                 -

worst cylinder, median cylinder, cylinder 1: grade 3 at about 100 000 mi (93 000
    to 115 000), an estimate
`, out.String())

	out.Reset()
	require.NoError(t, Trend(&out, tr, true, 120))
	assert.Contains(t, out.String(), "\ncylinder 2 valve 1  none ")
}

func TestOneInspectionIsNoTrend(t *testing.T) {
	e := inspected(t, facts(), []float64{30}, []float64{52}, []float64{math.NaN()})
	tr, err := trend.Of([]*engine.Engine{e}, "")
	require.NoError(t, err)
	var out bytes.Buffer
	require.NoError(t, Trend(&out, tr, false, 80))
	assert.Equal(t, `fleet-17: one inspection gives no trend, as growth needs a second inspection at
    a higher odometer reading; this one shows:

95 %             ODOMETER, mi  INDEX
worst cylinder   45 210        52 (48 to 56)
median cylinder  45 210        41 (37 to 45)
cylinder 1       45 210        30 (26 to 34)
cylinder 2       45 210        52 (48 to 56)
cylinder 3       -             -

worst cylinder, median cylinder, cylinder 2: grade 3 is reached at the last
    reading
`, out.String())
}

// A line never ends within a number, nor between it and its unit.
func TestNumbersAreNotBroken(t *testing.T) {
	const sentence = "grade 3 at about 1 105 000 mi (97 000 to 116 000), an estimate: 62 % of 14 places"
	for width := 8; width < 60; width++ {
		for line := range strings.Lines(wrapped(sentence, width)) {
			assert.NotRegexp(t, `^ *(000|105|mi|%)`, line, "%d columns", width)
		}
	}
}
