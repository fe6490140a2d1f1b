package deposit

import (
	"encoding/binary"
	"hash/fnv"
	"math"
	"math/rand/v2"

	"valvegrade/pkg/measure"
)

// Draws are the repetitions of a measurement (see Doubt), draw by draw: what the whole valve would read, in percent,
// and how much each draw counts. The limits of the classes move in the same way in the same draw of every photo, but
// for the part Calibration.Apart, so that what two photos read differently can be told from what both misread alike:
// in each draw take the one from the other.
type Draws struct {
	Index, Dark, Coverage []float64
	// Weight is at least 0.
	Weight []float64
}

// dice throws the random numbers of the draws: those that all photos share, and those of one photo.
type dice struct {
	shared, own *rand.Rand
	apart       float64
}

// diceOf returns the dice of the photo in which head and stem have these pixels: no other is likely to have the same.
func diceOf(c Calibration, head, stem tally) dice {
	photo := fnv.New64a()
	for _, t := range []tally{head, stem} {
		for _, n := range append(t.classes[:], t.unreadable) {
			_ = binary.Write(photo, binary.LittleEndian, int64(n))
		}
	}
	return dice{rand.New(rand.NewPCG(c.Seed, 0)), rand.New(rand.NewPCG(c.Seed, photo.Sum64())), c.Apart}
}

// normal returns a standard normal number of which the part apart, as variance, is the photo's own.
func (d dice) normal() float64 {
	return math.Sqrt(1-d.apart)*d.shared.NormFloat64() + math.Sqrt(d.apart)*d.own.NormFloat64()
}

// trust makes the draws those of hand and program together, as the intervals of the reading are: of each photo the
// hand's part errs anew.
func (d *Draws) trust(r measure.Reading, painted float64) {
	hand := rand.New(rand.NewPCG(math.Float64bits(r.Index.Value), math.Float64bits(painted)))
	for i := range d.Weight {
		slip := painted * handError / measure.Normal975 * hand.NormFloat64()
		for _, figure := range []struct{ drawn, value *float64 }{
			{&d.Index[i], &r.Index.Value}, {&d.Dark[i], &r.Dark.Value}, {&d.Coverage[i], &r.Coverage.Value},
		} {
			*figure.drawn = clamped(*figure.value + (1-painted)*(*figure.drawn-*figure.value) + slip)
		}
		d.Weight[i] = 1
	}
}
