package deposit

import (
	"math"

	"valvegrade/pkg/colour"
)

// Colour compares deposit with bare metal in CIELAB (D65, 2 degree observer) after illumination normalisation. A value
// that could not be measured (no deposit, or no bare metal in view) is NaN.
type Colour struct {
	DepositL, DepositA, DepositB float64 // mean L* (0..100), a*, b* of readable pixels classed film, medium or heavy
	BareL, BareA, BareB          float64 // the same of pixels classed bare
	DifferenceDE00               float64 // CIEDE2000 between the two means
	DarknessL                    float64 // BareL - DepositL, positive when the deposit is darker
}

const (
	// metalLuminance is what the envelope stands for: the luminance of clean steel, L* = 69.5.
	metalLuminance = 0.40
	// enough is the least share of the readable valve from which a mean colour is taken.
	enough = 0.005
	// colourPixels is about how many pixels the means are taken of.
	colourPixels = 10000
)

// colour compares deposit and bare metal by the map of classes. Without bare metal in view nothing holds the scale of
// light and white, so then the deposit's own colour is not measured either.
//
// Here the classes are known, so the light is evened once more with deposit allowed to lie lower: else a valve that is
// crusted on one side would pass for a valve lit from the other.
func (v *view) colour() Colour {
	deposited := func(i int) bool { return v.class[i] >= Film && v.class[i] <= Heavy }
	even := v.fitEnvelope(v.envelope, fitRounds/2, deposited)
	var sums [2]colour.Lab // bare, deposit
	var counts [2]float64
	for _, i := range v.sample(colourPixels) {
		if v.class[i] > Heavy {
			continue
		}
		kind := 0
		if deposited(i) {
			kind = 1
		}
		lab := v.lab(v.light[i], math.Exp(-v.level(even, i%v.Width, i/v.Width)))
		sums[kind].L, sums[kind].A, sums[kind].B = sums[kind].L+lab.L, sums[kind].A+lab.A, sums[kind].B+lab.B
		counts[kind]++
	}
	bare, deposit := mean(sums[0], counts[0]), mean(sums[1], counts[1])
	least := enough * (counts[0] + counts[1])
	if counts[0] < least || counts[0] == 0 {
		bare, deposit = unknown, unknown
	}
	if counts[1] < least || counts[1] == 0 {
		deposit = unknown
	}
	return Colour{
		DepositL: deposit.L, DepositA: deposit.A, DepositB: deposit.B,
		BareL: bare.L, BareA: bare.A, BareB: bare.B,
		DifferenceDE00: colour.CIEDE2000(bare, deposit),
		DarknessL:      bare.L - deposit.L,
	}
}

var unknown = colour.Lab{L: math.NaN(), A: math.NaN(), B: math.NaN()}

func mean(sum colour.Lab, count float64) colour.Lab {
	return colour.Lab{L: sum.L / count, A: sum.A / count, B: sum.B / count}
}

// lab returns the colour in CIELAB of light times a gain, its cast taken out; light beyond white is a glint and counts
// as white.
func (v *view) lab(l light, gain float64) colour.Lab {
	gain *= metalLuminance
	return colour.LabOfLight(
		min(1, gain*v.balance[0]*float64(l.r)),
		min(1, gain*v.balance[1]*float64(l.g)),
		min(1, gain*v.balance[2]*float64(l.b)),
	)
}
