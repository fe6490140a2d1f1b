package deposit

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"valvegrade/pkg/measure"
)

// halves is a valve whose left half carries medium crust, as sure as told.
func halves(sure float32) scene {
	s := plain()
	s.sure = sure
	s.class = func(x, y int) uint8 {
		if x < 320 {
			return Medium
		}
		return Bare
	}
	return s
}

func doubtOf(s scene, change func(c *Calibration)) Certainty {
	c := DefaultCalibration()
	change(&c)
	r := s.region()
	return Doubt(r, classify(r.Mask, r.Bounds(), r.Evidence), c)
}

func width(i measure.Figure) float64 { return i.High - i.Low }

func TestIntervalsHoldTheValueWithinTheScale(t *testing.T) {
	for _, class := range []uint8{Bare, Film, Medium, Heavy} {
		s := plain()
		s.sure = 1
		s.class = func(x, y int) uint8 { return class }
		all := doubtOf(s, func(c *Calibration) {})
		for _, i := range []measure.Figure{all.Both.Index, all.Both.Dark, all.Both.Coverage, all.Head.Index, all.Stem.Coverage} {
			assert.LessOrEqual(t, 0.0, i.Low)
			assert.LessOrEqual(t, i.Low, i.Value)
			assert.LessOrEqual(t, i.Value, i.High)
			assert.LessOrEqual(t, i.High, 100.0)
		}
	}
}

func TestSameArgumentsSameIntervals(t *testing.T) {
	once, twice := doubtOf(halves(3), func(*Calibration) {}), doubtOf(halves(3), func(*Calibration) {})
	assert.Equal(t, once, twice)
	other := doubtOf(halves(3), func(c *Calibration) { c.Seed = 77 })
	assert.NotEqual(t, once, other)
	assert.InDelta(
		t,
		width(once.Both.Index),
		width(other.Both.Index),
		0.3*width(once.Both.Index),
		"240 draws fix a 95 % width to about 10 %",
	)
}

func TestEachSourceOfDoubtWidens(t *testing.T) {
	still := func(c *Calibration) { c.Common, c.Own, c.Outline, c.Direct, c.DirectCoverage = 0, 0, 0, 0, 0 }
	base := width(doubtOf(halves(1), still).Both.Index)
	assert.Greater(t, base, 0.0, "blocks drawn anew")
	for name, add := range map[string]func(c *Calibration){
		"common": func(c *Calibration) { c.Common = 1 },
		"own":    func(c *Calibration) { c.Own = 1 },
		"direct": func(c *Calibration) { c.Direct = 10 },
	} {
		got := width(doubtOf(halves(1), func(c *Calibration) { still(c); add(c) }).Both.Index)
		assert.Greater(t, got, 1.1*base, name)
	}
}

func TestAnUnsureOutlineWidens(t *testing.T) {
	// Crust only along the rim of the head, where cells come and go.
	s := plain()
	s.class = func(x, y int) uint8 {
		dx, dy := x-320, y-280
		if dx*dx+dy*dy > 140*140 {
			return Heavy
		}
		return Bare
	}
	r := s.region()
	for k := range r.Evidence.Region {
		for i := range r.Evidence.Region[k] {
			r.Evidence.Region[k][i] /= 16 // sure by half a logit
		}
	}
	classes := classify(r.Mask, r.Bounds(), r.Evidence)
	c := DefaultCalibration()
	c.Outline = 0
	fixed := Doubt(r, classes, c)
	c.Outline = 1
	assert.Greater(t, width(Doubt(r, classes, c).Head.Index), 1.2*width(fixed.Head.Index))
}

// The common shift alone is a known distribution: every cell has logit 1 for crust, so a draw reads bare with the
// probability that a standard normal lies below -1 (15.9 %), and the 2.5 % quantile must be bare.
func TestQuantilesFollowTheStatedModel(t *testing.T) {
	s := plain()
	s.sure = 1
	s.class = func(x, y int) uint8 { return Heavy }
	only := func(spread float64) measure.Figure {
		return doubtOf(s, func(c *Calibration) {
			c.Common, c.Own, c.Outline, c.Direct, c.DirectCoverage = spread, 0, 0, 0, 0
		}).Both.Index
	}
	assert.Equal(t, measure.Figure{Value: 100, Low: 0, High: 100}, only(1))
	assert.Equal(
		t,
		measure.Figure{Value: 100, Low: 100, High: 100},
		only(0.3),
		"1 / 0.3 = 3.3 standard deviations: not within 95 %",
	)
}

func TestAbsentRegionsHaveNoInterval(t *testing.T) {
	r := halves(1).region()
	for i, label := range r.Mask.Pix {
		if label == 2 {
			r.Mask.Pix[i] = 0
		}
	}
	all := Doubt(r, classify(r.Mask, r.Bounds(), r.Evidence), DefaultCalibration())
	assert.True(
		t,
		math.IsNaN(all.Stem.Index.Value) && math.IsNaN(all.Stem.Index.Low) && math.IsNaN(all.Stem.Coverage.High),
	)
	assert.False(t, math.IsNaN(all.Both.Index.Low))
}

// The net's opinion of the grade moves the weight of the draws, never the value, and none leaves them as they are.
func TestTheNetsOpinionWeighsTheDraws(t *testing.T) {
	of := func(opinion [5]float64, trust float64) Certainty {
		s := halves(1)
		r := s.region()
		r.Evidence.Frame.Grades = opinion
		c := DefaultCalibration()
		c.Common, c.Trust = 1.5, trust
		return Doubt(r, classify(r.Mask, r.Bounds(), r.Evidence), c)
	}
	silent := of([5]float64{}, 1)
	same := func(c Certainty, why string) {
		assert.Equal(t, silent.Both, c.Both, why)
		assert.InDeltaSlice(t, silent.Grades[:], c.Grades[:], 1e-9, why)
	}
	same(of([5]float64{0.2, 0.2, 0.2, 0.2, 0.2}, 1), "every grade alike")
	same(of([5]float64{0, 0, 0, 0, 1}, 0), "without trust it does not count")
	low, high := of([5]float64{0.6, 0.3, 0.1, 0, 0}, 1), of([5]float64{0, 0, 0.1, 0.3, 0.6}, 1)
	assert.Equal(t, low.Both.Index.Value, high.Both.Index.Value)
	assert.Less(t, low.Grades.Due(), silent.Grades.Due())
	assert.Greater(t, high.Grades.Due(), silent.Grades.Due())
	assert.InDelta(t, 1, high.Grades.AtLeast(0), 1e-12)
}

func TestBuildUpIsSaidWhereItCanBeTold(t *testing.T) {
	of := func(sure float32, class func(x, y int) uint8) Certainty {
		s := plain()
		s.sure, s.class = sure, class
		return doubtOf(s, func(c *Calibration) { c.Common, c.Own = 0, 1 })
	}
	assert.Equal(t, Thick, wordOf(of(6, func(x, y int) uint8 { return Heavy })))
	assert.Equal(t, Thin, wordOf(of(6, func(x, y int) uint8 { return Medium })))
	doubtful := of(0.1, func(x, y int) uint8 { return Heavy })
	assert.Equal(t, Unknown, wordOf(doubtful))
	assert.Equal(t, 100.0, doubtful.Heavy.Share.Value)
	bare := of(6, func(x, y int) uint8 { return Bare })
	assert.Equal(t, Unknown, wordOf(bare))
	assert.False(t, bare.Heavy.Share.Known(), "no dark deposit")
}

// The scene has no heavy cell in any draw; that the net expects its index to err leaves room for some all the same.
func TestBuildUpAgreesWithTheErrorExpectedOfTheIndex(t *testing.T) {
	of := func(indexError, darkError float64) Certainty {
		s := plain()
		s.class = func(x, y int) uint8 { return Medium }
		r := s.region()
		r.Evidence.Frame.IndexError, r.Evidence.Frame.DarkError = indexError, darkError
		return Doubt(r, classify(r.Mask, r.Bounds(), r.Evidence), DefaultCalibration())
	}
	assert.Equal(t, Thin, wordOf(of(0.01, 0)))
	assert.Less(t, of(0.01, 0).Heavy.Share.High, 10.0)
	erring := of(0.2, 0)
	assert.Equal(t, erring.Both.Dark.Low/2, erring.Both.Index.Low, "no index is below half of the dark deposit")
	assert.LessOrEqual(t, erring.Both.Dark.Low, erring.Both.Coverage.Low)
	assert.LessOrEqual(t, erring.Head.Dark.Low, erring.Head.Coverage.Low)
	assert.Equal(t, Unknown, wordOf(erring))
	assert.InDelta(t, 2*erring.Both.Index.High-100, erring.Heavy.Share.High, 1, "all is dark, so that no film is left")
	assert.Equal(t, Unknown, wordOf(of(0, 0.6)), "of a dark deposit that may be none nobody knows how thick it is")
}

func TestThickStaysWithinWhatIndexAndDarkDepositOfADrawAllow(t *testing.T) {
	nan := math.NaN()
	d := Draws{
		Index: []float64{64, 50, 30, 13, 0, nan},
		Dark:  []float64{100, 100, 40, 26, 0, nan},
	}
	assert.InDeltaSlice(t, []float64{28, 0, 50, 0}, d.thick([]float64{0, 80, 90, 0, nan, nan})[:4], 1e-9)
	assert.True(t, math.IsNaN(d.thick([]float64{0, 0, 0, 0, nan, nan})[4]), "nothing dark, nothing thick")
	assert.Equal(t, 40.0, d.thick([]float64{0, 0, 40, 0, nan, nan})[2], "what is allowed stays")
}

func wordOf(c Certainty) BuildUp { return BuildUpOf(c.Heavy.Chance, c.Both.Dark) }
