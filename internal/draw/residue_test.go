package draw

import (
	"image"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"

	"valvegrade/internal/ramp"
	"valvegrade/pkg/compare"
	"valvegrade/pkg/deposit"
	"valvegrade/pkg/measure"
	"valvegrade/pkg/unroll"
)

// cleaned is a comparison of a caked valve with one that has crust left at 6 o'clock; the stem hides the head at 12,
// and at 3 only one photo can be read.
func cleaned() *compare.Comparison {
	size := (unroll.HeadRows + unroll.StemRows) * unroll.Columns
	r := &compare.Residue{Before: make([]uint8, size), After: make([]uint8, size)}
	for i := range r.Before {
		row, angle := i/unroll.Columns, i%unroll.Columns
		onStem := row >= unroll.HeadRows
		switch {
		case onStem && (angle < 90 || angle >= 270), !onStem && (angle < 12 || angle >= 348):
			r.Before[i], r.After[i] = deposit.NotValve, deposit.NotValve
		case !onStem && angle > 80 && angle < 100:
			r.Before[i], r.After[i] = deposit.Unreadable, deposit.Unreadable
		case angle > 150 && angle < 210:
			r.Before[i], r.After[i] = deposit.Heavy, deposit.Medium
		default:
			r.Before[i], r.After[i] = deposit.Heavy, deposit.Bare
		}
	}
	interval := func(v float64) measure.Figure { return measure.Figure{Value: v, Low: v - 3, High: v} }
	less := compare.Change{
		Before: interval(100), After: interval(10), Difference: measure.Figure{Value: -90, Low: -94, High: -86}, Detectable: 4,
	}
	part := compare.Part{
		Share:  1.0 / 3,
		Before: measure.Shares{Heavy: 1},
		After:  measure.Shares{Bare: 0.8, Medium: 0.2},
	}
	return &compare.Comparison{
		Before: &compare.View{
			Photo: "ports/before.jpg",
		}, After: &compare.View{Photo: "ports/after.jpg"}, Compared: true, Verdict: compare.Changed,
		Changes: compare.Changes{Index: less, Dark: less},
		Zones:   map[compare.Zone]compare.Part{compare.Rim: part, compare.Fillet: part, compare.Stem: part},
		Clock:   make([]compare.Part, 12), Residue: r,
	}
}

func english(c *compare.Comparison) *image.RGBA { return ResidueMap(c, EnglishResidue(c)) }

func TestResidueMapWithoutWordsAbove(t *testing.T) {
	words := EnglishResidue(cleaned())
	whole := ResidueMap(cleaned(), words)
	words.Title, words.Outcome = "", ""
	bare := ResidueMap(cleaned(), words)
	cut := whole.Rect.Dy() - bare.Rect.Dy()
	assert.Positive(t, cut)
	assert.Equal(
		t,
		whole.SubImage(image.Rect(0, cut+residueMargin, residueWidth, whole.Rect.Dy())).(*image.RGBA).Pix,
		bare.Pix[residueMargin*bare.Stride:],
		"the map is the same",
	)
}

func TestResidueMap(t *testing.T) {
	matches(t, filepath.Join("testdata", "residue.golden.png"), english(cleaned()))
}

func TestResidueMapWithoutClockOrMaps(t *testing.T) {
	c := cleaned()
	whole := english(c)
	c.Clock = nil
	assert.NotEqual(t, whole.Pix, english(c).Pix, "no hours")
	c.Residue = nil
	assert.Less(t, english(c).Rect.Dy(), whole.Rect.Dy()/3, "words only")
}

func TestResidueMapHasTheClassesWhereTheyAre(t *testing.T) {
	picture := english(cleaned())
	// The after dial is centred on three quarters of the width; its top is found from below: 6 o'clock carries crust, 9
	// is bare.
	centre := picture.Rect.Dx() * 3 / 4
	colourAt := func(x, y int) [3]uint8 { c := picture.RGBAAt(x, y); return [3]uint8{c.R, c.G, c.B} }
	umber, steel := [3]uint8{
		ramp.Umber.R,
		ramp.Umber.G,
		ramp.Umber.B,
	}, [3]uint8{
		ramp.Steel.R,
		ramp.Steel.G,
		ramp.Steel.B,
	}
	crusted := 0
	for y := range picture.Rect.Dy() {
		if colourAt(centre, y) == umber {
			crusted++
		}
	}
	assert.Greater(t, crusted, dialRadius-5, "from the middle of the dial down to 6 o'clock, and along the stem")
	bare := 0
	for y := range picture.Rect.Dy() {
		if colourAt(centre-dialRadius/2, y) == steel {
			bare++
		}
	}
	assert.Greater(t, bare, dialRadius)
}
