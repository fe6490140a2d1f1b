package deposit

import (
	"image"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"valvegrade/pkg/measure"
	"valvegrade/pkg/reason"
	"valvegrade/pkg/region"
)

// twoFaced is a valve whose left half is brown and rough and classed medium, its right half plain and classed bare.
func twoFaced() scene {
	s := halves(3)
	s.light = func(x, y int) [3]float64 {
		l := fallOff(x, y)
		if x < 320 {
			l *= 0.08 * lumpy(x, y)
			return [3]float64{1.2 * l, l, 0.7 * l}
		}
		return grey(0.4 * l * noise(x, y))
	}
	return s
}

func measured(t *testing.T, s scene) *Deposit {
	t.Helper()
	d, err := Measure(s.photo(), s.region(), Options{})
	require.NoError(t, err)
	return d
}

func codes(reasons []reason.Reason) (found []reason.Code) {
	for _, r := range reasons {
		found = append(found, r.Code)
	}
	return found
}

func TestMeasureATwoFacedValve(t *testing.T) {
	d := measured(t, twoFaced())
	assert.InDelta(t, 50, d.Both.Coverage.Value, 1, "half of a symmetric valve, cells of 4 pixels")
	assert.InDelta(t, 25, d.Both.Index.Value, 0.5)
	require.NotNil(t, d.Head)
	require.NotNil(t, d.Stem)
	assert.Equal(t, d.Both.Pixels, d.Head.Pixels+d.Stem.Pixels)
	assert.Empty(t, d.Reasons)
}

func TestTheMapGivesTheFigures(t *testing.T) {
	d := measured(t, twoFaced())
	var counts [256]float64
	for _, class := range d.Map.Pix {
		counts[class]++
	}
	readable := counts[Bare] + counts[Film] + counts[Medium] + counts[Heavy]
	assert.InDelta(
		t,
		100*(counts[Heavy]+0.5*counts[Medium]+0.25*counts[Film])/readable,
		d.Both.Index.Value,
		1e-9,
		"float64 sums",
	)
	assert.Equal(t, float64(d.Both.Pixels), readable+counts[Unreadable])
}

func TestSameArgumentsSameDeposit(t *testing.T) {
	p, r := twoFaced().photo(), twoFaced().region()
	before := append([]uint8(nil), p.Pixels.Pix...)
	first, err := Measure(p, r, Options{})
	require.NoError(t, err)
	second, err := Measure(p, r, Options{})
	require.NoError(t, err)
	assert.Equal(t, first, second)
	assert.Equal(t, before, p.Pixels.Pix, "a photo is never modified")
}

func TestCalibrationReachesTheIntervals(t *testing.T) {
	wide := DefaultCalibration()
	wide.Direct = 20
	d, err := Measure(twoFaced().photo(), twoFaced().region(), Options{Calibration: &wide})
	require.NoError(t, err)
	assert.Greater(t, width(d.Both.Index), 1.5*width(measured(t, twoFaced()).Both.Index))
}

func TestColourComparesDepositWithMetal(t *testing.T) {
	c := measured(t, twoFaced()).Colour
	assert.Greater(t, c.DarknessL, 20.0)
	assert.InDelta(t, c.BareL-c.DepositL, c.DarknessL, 1e-12)
	assert.Greater(t, c.DepositB, c.BareB+3, "the crust is brown")
	assert.InDelta(
		t,
		69.5,
		c.BareL,
		6,
		"metal stands at the lightness of steel, whatever the light; the envelope runs a little above it",
	)
	assert.Greater(t, c.DifferenceDE00, 20.0)
}

func TestColourNeedsBothSurfaces(t *testing.T) {
	bare := measured(t, plain()).Colour
	assert.False(t, math.IsNaN(bare.BareL))
	assert.True(t, math.IsNaN(bare.DepositL) && math.IsNaN(bare.DarknessL) && math.IsNaN(bare.DifferenceDE00))

	caked := plain()
	caked.class = func(x, y int) uint8 { return Heavy }
	c := measured(t, caked).Colour
	assert.True(t, math.IsNaN(c.BareL) && math.IsNaN(c.DepositL), "without metal nothing holds the scale")
}

func TestTextureKnowsRoughFromSmooth(t *testing.T) {
	smooth, rough := plain(), plain()
	smooth.light = func(x, y int) [3]float64 { return grey(0.3 * noise(x, y)) }
	rough.light = func(x, y int) [3]float64 { return grey(0.3 * lumpy(x, y)) }
	s, r := measured(t, smooth).Texture, measured(t, rough).Texture
	assert.Greater(t, r.ContrastGLCM, 5*s.ContrastGLCM)
	assert.Greater(t, r.EntropyBits, s.EntropyBits)
	assert.Less(t, r.HomogeneityGLCM, s.HomogeneityGLCM)
	assert.Greater(t, r.ReliefFine, 5*s.ReliefFine)
	assert.Greater(t, r.ReliefCoarse, 2*s.ReliefCoarse)
}

func TestGlareWarnsAndThenRefuses(t *testing.T) {
	burnt := func(radius int) scene {
		s := plain()
		s.light = func(x, y int) [3]float64 {
			dx, dy := x-320, y-280
			if dx*dx+dy*dy < radius*radius {
				return grey(1)
			}
			return grey(0.3)
		}
		return s
	}
	assert.NotContains(t, codes(measured(t, burnt(20)).Reasons), reason.Glare)
	assert.Contains(t, codes(measured(t, burnt(60)).Reasons), reason.Glare)
	d := measured(t, burnt(140))
	assert.Contains(t, codes(d.Reasons), reason.MostlyUnreadable)
	assert.True(t, reason.Refuses(d.Reasons))
}

func TestShadowAsksForLight(t *testing.T) {
	s := plain()
	s.light = func(x, y int) [3]float64 {
		if x < 400 {
			return grey(0)
		}
		return grey(0.3)
	}
	d := measured(t, s)
	require.Contains(t, codes(d.Reasons), reason.MostlyShadow)
	assert.Contains(t, d.Reasons[0].Advice, "turn the light up")
}

func TestNothingLeftToRead(t *testing.T) {
	s := plain()
	s.light = func(x, y int) [3]float64 { return grey(1) }
	d := measured(t, s)
	assert.Equal(t, []reason.Code{reason.MostlyUnreadable}, codes(d.Reasons))
	for _, value := range []float64{
		d.Both.Index.Value, d.Both.Coverage.High, d.Colour.BareL, d.Texture.ContrastGLCM,
		d.Texture.LBPEntropyBits, d.Texture.ReliefFine,
	} {
		assert.True(t, math.IsNaN(value), "not measured is never 0")
	}
}

func TestArgumentsThatDoNotBelongTogether(t *testing.T) {
	p, r := plain().photo(), plain().region()
	cases := map[string]func(r *region.Region){
		"another photo's mask": func(r *region.Region) { r.Mask = image.NewGray(image.Rect(0, 0, 64, 48)) },
		"no evidence":          func(r *region.Region) { r.Evidence = nil },
		"a short map":          func(r *region.Region) { e := *r.Evidence; e.Deposit[1] = e.Deposit[1][:7]; r.Evidence = &e },
	}
	for name, spoil := range cases {
		changed := *r
		spoil(&changed)
		_, err := Measure(p, &changed, Options{})
		assert.ErrorIs(t, err, ErrMismatch, name)
	}
	empty := *r
	empty.Mask = image.NewGray(r.Mask.Rect)
	_, err := Measure(p, &empty, Options{})
	assert.ErrorIs(t, err, ErrNoValve)
}

func TestASmallStemAloneIsMeasured(t *testing.T) {
	r := plain().region()
	for i := range r.Mask.Pix {
		r.Mask.Pix[i] = 0
	}
	r.Mask.Pix[100*640+320] = region.Stem
	d, err := Measure(plain().photo(), r, Options{})
	require.NoError(t, err)
	assert.Nil(t, d.Head)
	require.NotNil(t, d.Stem)
	assert.Equal(t, 1, d.Stem.Pixels)
	assert.Equal(
		t,
		measure.Figure{Value: 0, Low: 0, High: 100},
		d.Stem.Index,
		"one pixel fills no cell of the evidence: nothing is known of its error",
	)
}
