package trend_test

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"valvegrade/pkg/engine"
	"valvegrade/pkg/trend"
)

// A further reading on the same line must not take away what the others showed.
func TestMoreReadingsKnowNoLess(t *testing.T) {
	engines := []*engine.Engine{routine(1, 10000, 12), routine(50, 20000, 24)}
	two := onlyLine(t, of(t, engines...)).Growth
	require.Equal(t, trend.Growing, two.Verdict)
	three := onlyLine(t, of(t, append(engines, routine(90, 30000, 41))...)).Growth
	assert.Equal(t, trend.Growing, three.Verdict)
	assert.Less(t, three.High-three.Low, two.High-two.Low)
}

// The same on average over readings with errors of the size that they claim, however many there are.
func TestIntervalsNarrowWithTheNumberOfReadings(t *testing.T) {
	const draws, most = 300, 8
	random := rand.New(rand.NewPCG(1932, 207))
	var widths [most + 1]float64
	for range draws {
		var engines []*engine.Engine
		for n := 1; n <= most; n++ {
			engines = append(engines, routine(10*n, 10000*float64(n), 20+4*float64(n)+4/1.96*random.NormFloat64()))
			if n > 1 {
				g := onlyLine(t, of(t, engines...)).Growth
				widths[n] += (g.High - g.Low) / draws
			}
		}
	}
	for n := 3; n <= most; n++ {
		assert.Less(t, widths[n], widths[n-1], "%d readings", n)
	}
}

func TestReadingsThatContradictEachOtherAreSaid(t *testing.T) {
	l := onlyLine(t, of(t, routine(1, 10000, 10), routine(50, 20000, 35), routine(90, 30000, 12)))
	assert.Equal(t, trend.NotDistinguishable, l.Growth.Verdict)
	assert.Contains(t, l.Missing, "contradict each other")
}
