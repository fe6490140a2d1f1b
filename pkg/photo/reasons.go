package photo

import (
	"fmt"
	"math"

	"valvegrade/internal/number"
	"valvegrade/pkg/reason"
)

// When is a photo too poor to judge?
//
// Blur and smear. Crust shows by its lumps. The stem is the ruler: it is about 0.35 valve radii thick (stem to head
// 0.175), lumps that make crust heavy rise 8 % of that and are some three times as wide, so light and dark alternate
// with a period of about 0.2 valve radii. A Gaussian blur of sigma s leaves exp(-2 pi2 (s/period)2) of their contrast,
// a straight smear of length L leaves sin(pi L/period)/(pi L/period). A quarter left: crust cannot be told from a
// stain. Three quarters: worth a warning. A smear only ever warns: a stem or tool marks whose sharp edges all run one
// way, over a surface that is soft by itself, have the same edge widths as a smeared photo, at any threshold. On a
// valve that fills a tenth of a 640x480 frame (radius 99) that is a sigma of 5.2 and 2.4 pixels.
//
// Darkness. A dim but clean photo can be judged, so level alone refuses nothing. Four classes divide the valve's tonal
// range into three steps; averaging a 4x4 block halves JPEG-correlated noise; a step seen over twice that noise is a
// sure one. Hence range/3 >= 2 noise/2, Signal 3. Where 8-bit codes end at about two dozen, four classes have six codes
// each, and compression takes half of those, however clean they are: of 260 own photos darkened by 3 to 5 stops, index
// and dark deposit are read worse than in the light by 1.6 (standard error 0.5) and 2.2 (0.8) points below 0.008, both by
// 0.4 above. And only where the whole frame is dark: a black valve in a lit port is a black valve.
//
// Size. A valve of 1.5 % of a 640x480 frame is 77 pixels wide, its stem 13, its heavy crust 1 pixel. What counts are
// its pixels: of a large photo, looked at through a window, a smaller part is enough.
const (
	lumpPeriod       = 0.2 // valve radii
	contrastLost     = 0.25
	contrastSoft     = 0.75
	darkLuminance    = 0.05  // linear; code 63
	luminanceLost    = 0.008 // linear; code 22
	signalLost       = 3.0
	signalPoor       = 6.0
	blackLost        = 0.8
	glareLost        = 0.5
	glareMuch        = 0.1
	smallestShare    = 0.015
	comfortableShare = 0.1
	pixelsOfAll      = 640 * 480 // that the two shares are meant for
)

// Reasons returns what speaks against judging the photo, refusals only where it surely cannot be judged; empty when
// nothing does. What could not be measured gives no reason. In a photo too dark or too bright, blur is not looked at.
func (q Quality) Reasons() []reason.Reason {
	reasons := append(q.size(), q.light()...)
	if reason.Refuses(reasons) {
		return reasons
	}
	return append(reasons, q.detail()...)
}

func (q Quality) size() []reason.Reason {
	fills := fmt.Sprintf("the valve fills %s %% of the frame", number.Text(100*q.ValveShare, decimals(q.ValveShare)))
	switch {
	case q.ValveShare < smallestShare && q.ValvePixels < smallestShare*pixelsOfAll:
		return []reason.Reason{reason.With(reason.ValveTooSmall, fills)}
	case q.ValveShare < comfortableShare && q.ValvePixels < comfortableShare*pixelsOfAll:
		return []reason.Reason{reason.With(reason.FarAway, fills)}
	}
	return nil
}

// decimals shows small shares with one, so that 1.4 % does not read like 1 %.
func decimals(share float64) int {
	if share < comfortableShare {
		return 1
	}
	return 0
}

func (q Quality) light() []reason.Reason {
	var found []reason.Reason
	// Black or white all over, a photo may show no valve at all: its refusals speak only of what was taken for one.
	const taken = "what was taken for the valve"
	dark := q.Luminance < darkLuminance && q.FrameLuminance < darkLuminance
	level := func(of string) string {
		return fmt.Sprintf("%s has %.1f %% of full brightness and its tones span %.1f times the noise", of, 100*q.Luminance, q.Signal)
	}
	switch {
	case dark && q.Black > blackLost:
		found = append(found, reason.With(reason.TooDark, fmt.Sprintf("%.0f %% of %s is black", 100*q.Black, taken)))
	case dark && (q.Signal < signalLost || max(q.Luminance, q.FrameLuminance) < luminanceLost):
		found = append(found, reason.With(reason.TooDark, level(taken)))
	case dark && q.Signal < signalPoor:
		found = append(found, reason.With(reason.Dim, level("the valve")))
	}
	switch {
	case q.Glare > glareLost:
		found = append(
			found,
			reason.With(reason.TooBright, fmt.Sprintf("%.0f %% of %s is burnt out", 100*q.Glare, taken)),
		)
	case q.Glare > glareMuch:
		found = append(found, reason.With(reason.Glare, fmt.Sprintf("%.0f %% of the valve is burnt out", 100*q.Glare)))
	}
	return found
}

func (q Quality) detail() []reason.Reason {
	var found []reason.Reason
	period := lumpPeriod * q.ValveRadius
	blurred := fmt.Sprintf("edges are blurred over %.1f %% of the valve's radius", 100*q.Sharpness/q.ValveRadius)
	switch left := blurContrast(q.Sharpness / period); {
	case left < contrastLost:
		found = append(found, reason.With(reason.Blurred, blurred))
	case left < contrastSoft:
		found = append(found, reason.With(reason.SoftFocus, blurred))
	}
	if smearContrast(q.Motion/period) < contrastSoft {
		found = append(found, reason.With(reason.Unsteady,
			fmt.Sprintf("edges are smeared over %.0f %% of the valve's radius", 100*q.Motion/q.ValveRadius)))
	}
	return found
}

// blurContrast is the share of contrast that a Gaussian blur leaves of a wave, sigma in periods.
func blurContrast(sigma float64) float64 { return math.Exp(-2 * math.Pi * math.Pi * sigma * sigma) }

// smearContrast is the same for a straight smear, length in periods; from a whole period on what is left is an
// artefact.
func smearContrast(length float64) float64 {
	switch {
	case length == 0:
		return 1
	case length >= 1:
		return 0
	}
	return math.Sin(math.Pi*length) / (math.Pi * length)
}
