package colour

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestCIEDE2000OfThePublishedPairs(t *testing.T) {
	for i, pair := range sharma {
		assert.InDelta(
			t,
			pair.difference,
			CIEDE2000(pair.first, pair.second),
			1e-4,
			"pair %d: four printed decimals",
			i+1,
		)
		assert.InDelta(t, pair.difference, CIEDE2000(pair.second, pair.first), 1e-4, "pair %d, other order", i+1)
	}
}

// scikit-image 0.19.3 on the colours of the scale's ramp and of soot.
func TestDifferencesAlongTheRamp(t *testing.T) {
	steel, sand := LabOf(168, 170, 173), LabOf(194, 178, 128)
	umber, soot := LabOf(96, 72, 48), LabOf(30, 26, 22)
	for _, pair := range []struct {
		name    string
		a, b    Lab
		cie2000 float64
	}{
		{"steel-soot", steel, soot, 52.6658},
		{"steel-sand", steel, sand, 19.5707},
		{"sand-umber", sand, umber, 40.7175},
		{"umber-soot", umber, soot, 19.4622},
	} {
		assert.InDelta(
			t,
			pair.cie2000,
			CIEDE2000(pair.a, pair.b),
			0.02,
			"%s: each colour may differ by 0.01",
			pair.name,
		)
	}
}

func TestNoDifferenceFromItself(t *testing.T) {
	for _, k := range known {
		assert.Zero(t, CIEDE2000(k.lab, k.lab), k.name)
	}
}
