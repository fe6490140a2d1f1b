package photo

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"valvegrade/pkg/reason"
)

func codesOf(reasons []reason.Reason) []reason.Code {
	codes := []reason.Code{}
	for _, r := range reasons {
		codes = append(codes, r.Code)
	}
	return codes
}

// fineQuality is a photo that nothing speaks against; each case spoils one thing.
func fineQuality() Quality {
	return Quality{
		ValveShare:     0.2,
		ValvePixels:    1000,
		ValveRadius:    100,
		Luminance:      0.2,
		FrameLuminance: 0.15,
		Signal:         40,
		Black:          0.02,
		Glare:          0.03,
		Sharpness:      1,
		Motion:         0,
	}
}

func TestReasonsAtTheLimits(t *testing.T) {
	cases := []struct {
		name  string
		spoil func(q *Quality)
		want  []reason.Code
	}{
		{"nothing", func(*Quality) {}, []reason.Code{}},
		{"just large enough", func(q *Quality) { q.ValveShare = 0.1 }, []reason.Code{}},
		{"small", func(q *Quality) { q.ValveShare = 0.099 }, []reason.Code{reason.FarAway}},
		{"still to be judged", func(q *Quality) { q.ValveShare = 0.015 }, []reason.Code{reason.FarAway}},
		{"too small", func(q *Quality) { q.ValveShare = 0.0149 }, []reason.Code{reason.ValveTooSmall}},
		{
			"a small part, of enough pixels",
			func(q *Quality) { q.ValveShare, q.ValvePixels = 0.01, 30720 },
			[]reason.Code{},
		},
		{
			"a small part, of few",
			func(q *Quality) { q.ValveShare, q.ValvePixels = 0.01, 4608 },
			[]reason.Code{reason.FarAway},
		},
		{"dim but clean", func(q *Quality) { q.Luminance, q.FrameLuminance = 0.01, 0.01 }, []reason.Code{}},
		{
			"dim and noisy",
			func(q *Quality) { q.Luminance, q.FrameLuminance, q.Signal = 0.01, 0.01, 5 },
			[]reason.Code{reason.Dim},
		},
		{
			"lost in noise",
			func(q *Quality) { q.Luminance, q.FrameLuminance, q.Signal = 0.01, 0.01, 2.9 },
			[]reason.Code{reason.TooDark},
		},
		{
			"black",
			func(q *Quality) { q.Luminance, q.FrameLuminance, q.Black = 0.001, 0.01, 0.81 },
			[]reason.Code{reason.TooDark},
		},
		{
			"clean, but a dozen codes are left",
			func(q *Quality) { q.Luminance, q.FrameLuminance = 0.003, 0.0035 },
			[]reason.Code{reason.TooDark},
		},
		{
			"black valve in a lit port",
			func(q *Quality) { q.Luminance, q.Signal, q.Black = 0.001, 2, 0.9 },
			[]reason.Code{},
		},
		{"some glare", func(q *Quality) { q.Glare = 0.11 }, []reason.Code{reason.Glare}},
		{"burnt out", func(q *Quality) { q.Glare = 0.51 }, []reason.Code{reason.TooBright}},
		{"soft", func(q *Quality) { q.Sharpness = 2.5 }, []reason.Code{reason.SoftFocus}},
		{"blurred", func(q *Quality) { q.Sharpness = 5.4 }, []reason.Code{reason.Blurred}},
		{"slight smear", func(q *Quality) { q.Motion = 9 }, []reason.Code{reason.Unsteady}},
		{"smeared", func(q *Quality) { q.Motion = 16 }, []reason.Code{reason.Unsteady}},
		{"smeared far", func(q *Quality) { q.Motion = 90 }, []reason.Code{reason.Unsteady}},
		{
			"dark hides blur",
			func(q *Quality) { q.Luminance, q.FrameLuminance, q.Signal, q.Sharpness = 0.01, 0.01, 1, 9 },
			[]reason.Code{reason.TooDark},
		},
		{
			"blur counts against size",
			func(q *Quality) { q.ValveRadius, q.Sharpness = 40, 2.5 },
			[]reason.Code{reason.Blurred},
		},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			q := fineQuality()
			c.spoil(&q)
			assert.Equal(t, c.want, codesOf(q.Reasons()))
		})
	}
}

func TestReasonsOfNothingMeasured(t *testing.T) {
	nan := math.NaN()
	assert.Empty(t, Quality{nan, nan, nan, nan, nan, nan, nan, nan, nan, nan}.Reasons())
}

func TestReasonsCarryTheFigures(t *testing.T) {
	q := fineQuality()
	q.ValveShare = 0.093
	assert.Contains(t, q.Reasons()[0].Advice, "the valve fills 9.3 % of the frame: come closer")
}

// A picture black or white all over may show no valve.
func TestRefusalsForLightClaimNoValve(t *testing.T) {
	for name, q := range map[string]Quality{
		"black":         {Black: 1, Signal: 40},
		"lost in noise": {Luminance: 0.01, FrameLuminance: 0.01, Signal: 1},
		"white":         {Luminance: 1, FrameLuminance: 1, Glare: 1},
	} {
		q.ValveShare = 0.2
		found := q.light()
		require.Len(t, found, 1, name)
		assert.True(t, reason.Refuses(found), name)
		assert.Contains(t, found[0].Advice, "what was taken for the valve", name)
	}
}

func TestContrastLeft(t *testing.T) {
	// Fourier transforms of a Gaussian and of a box, at hand-worked points.
	assert.InDelta(t, 1, blurContrast(0), 1e-12)
	assert.InDelta(t, math.Exp(-math.Pi*math.Pi/2), blurContrast(0.5), 1e-12)
	assert.InDelta(t, 1, smearContrast(0), 1e-12)
	assert.InDelta(t, 2/math.Pi, smearContrast(0.5), 1e-12)
	assert.InDelta(t, 0, smearContrast(1), 1e-12)
}

func TestReasonsOfPictures(t *testing.T) {
	scene := leaves(vgaW, vgaH, 1, 40, 200).blurred(1)
	dark := func(codes float64) canvas {
		return newCanvas(vgaW, vgaH, func(x, y int) float64 { return codes * scene.v[y*vgaW+x] / 200 })
	}
	cases := []struct {
		name string
		c    canvas
		want []reason.Code
	}{
		{"good", scene.noisy(2, 1), []reason.Code{}},
		{"dim but clean", dark(40).noisy(0.5, 1), []reason.Code{}},
		{"dark and noisy", dark(15).noisy(8, 1), []reason.Code{reason.TooDark}},
		{"black", dark(3), []reason.Code{reason.TooDark}},
		{"out of focus", scene.blurred(12).noisy(2, 1), []reason.Code{reason.Blurred}},
		{"white", newCanvas(vgaW, vgaH, func(int, int) float64 { return 255 }), []reason.Code{reason.TooBright}},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			q := Assess(c.c.photo(), valve())
			assert.Equal(t, c.want, codesOf(q.Reasons()), "%+v", q)
		})
	}
}

// stems draws still, sharp, parallel edges over a soft surface: its edge widths are those of a smear along the stems.
func stems() canvas {
	soft := leaves(vgaW, vgaH, 1, 60, 140).blurred(6)
	return newCanvas(vgaW, vgaH, func(x, y int) float64 {
		if x > 225 && x < 415 && (x-225)/16%2 == 0 {
			return 180 + soft.v[y*vgaW+x]/10
		}
		return soft.v[y*vgaW+x]
	}).blurred(1).noisy(1, 2)
}

func TestStillStemsAreNotRefusedAsMoving(t *testing.T) {
	q := Assess(stems().photo(), valve())
	assert.Greater(t, q.Motion, 8.0, "the picture that misleads the measure: 8 is where the warning starts")
	assert.False(t, reason.Refuses(q.Reasons()), "%+v", q)
}
