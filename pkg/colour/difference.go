package colour

import "math"

// CIEDE2000 returns the colour difference of ISO/CIE 11664-6:2014 with kL = kC = kH = 1. About 1 is just visible side
// by side. Symbols and branches follow Sharma, Wu & Dalal, "The CIEDE2000 color-difference formula: implementation
// notes, supplementary test data, and mathematical observations", Color Research and Application 30 (2005).
func CIEDE2000(a, b Lab) float64 {
	meanChroma := pow7((a.Chroma() + b.Chroma()) / 2)
	stretch := 1 + 0.5*(1-math.Sqrt(meanChroma/(meanChroma+pow7(25))))
	a.A *= stretch
	b.A *= stretch
	c1, c2 := a.Chroma(), b.Chroma()
	h1, h2 := hue(a), hue(b)

	dL, dC := b.L-a.L, c2-c1
	dh, hMean := hueStep(h1, h2, c1*c2)
	dH := 2 * math.Sqrt(c1*c2) * sinDegrees(dh/2)
	lMean, cMean := (a.L+b.L)/2, (c1+c2)/2

	t := 1 - 0.17*cosDegrees(hMean-30) + 0.24*cosDegrees(2*hMean) +
		0.32*cosDegrees(3*hMean+6) - 0.20*cosDegrees(4*hMean-63)
	fromGrey := (lMean - 50) * (lMean - 50)
	sL := 1 + 0.015*fromGrey/math.Sqrt(20+fromGrey)
	sC := 1 + 0.045*cMean
	sH := 1 + 0.015*cMean*t
	fromBlue := (hMean - 275) / 25
	turn := -sinDegrees(60*math.Exp(-fromBlue*fromBlue)) * 2 * math.Sqrt(pow7(cMean)/(pow7(cMean)+pow7(25)))

	l, c, h := dL/sL, dC/sC, dH/sH
	return math.Sqrt(l*l + c*c + h*h + turn*c*h)
}

// hueStep returns the signed step from hue h1 to h2 and their mean, in degrees; without chroma hue means nothing.
func hueStep(h1, h2, chroma float64) (step, mean float64) {
	// Opposite hues are exactly 180 apart in the formula; the margin keeps rounding from choosing the other branch.
	const half = 180 + 1e-9
	step, mean = h2-h1, (h1+h2)/2
	switch {
	case chroma == 0:
		return 0, h1 + h2
	case math.Abs(step) <= half:
		return step, mean
	case h1+h2 < 360:
		mean += 180
	default:
		mean -= 180
	}
	if step > 0 {
		return step - 360, mean
	}
	return step + 360, mean
}

// hue returns the hue angle in degrees, in [0, 360); 0 for grey.
func hue(c Lab) float64 {
	h := math.Atan2(c.B, c.A) * 180 / math.Pi
	if h < 0 {
		return h + 360
	}
	return h
}

func pow7(x float64) float64         { return x * x * x * x * x * x * x }
func sinDegrees(deg float64) float64 { return math.Sin(deg * math.Pi / 180) }
func cosDegrees(deg float64) float64 { return math.Cos(deg * math.Pi / 180) }
