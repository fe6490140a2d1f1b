package colour

import "math"

// Lab is a colour in CIELAB: L from 0 (black) to 100 (white), A from green (-) to red (+), B from blue (-) to yellow
// (+).
type Lab struct {
	L, A, B float64
}

// XYZ is a colour as CIE tristimulus values, scaled so that Y of white is 1.
type XYZ struct {
	X, Y, Z float64
}

// toXYZ takes linear sRGB to XYZ. It follows from the primaries and the white of IEC 61966-2-1 with more digits than
// the standard prints, so that equal parts of red, green and blue give exactly the white below.
var toXYZ = [3][3]float64{
	{0.4124564, 0.3575761, 0.1804375},
	{0.2126729, 0.7151522, 0.0721750},
	{0.0193339, 0.1191920, 0.9503041},
}

// D65 is the white of sRGB: the row sums of toXYZ.
var D65 = XYZ{0.9504700, 1.0000001, 1.0888300}

// The two parts of the CIELAB curve meet at this share of white (CIE 15:2004, 8.2.1).
const (
	kneeRatio = 216.0 / 24389
	kneeSlope = 841.0 / 108
)

// XYZOf returns the tristimulus values of linear sRGB light.
func XYZOf(r, g, b float64) XYZ {
	return XYZ{
		toXYZ[0][0]*r + toXYZ[0][1]*g + toXYZ[0][2]*b,
		toXYZ[1][0]*r + toXYZ[1][1]*g + toXYZ[1][2]*b,
		toXYZ[2][0]*r + toXYZ[2][1]*g + toXYZ[2][2]*b,
	}
}

// Lab returns the CIELAB colour under the given white (CIE 15:2004, 8.2.1).
func (c XYZ) Lab(white XYZ) Lab {
	return labOf(curve(c.X/white.X), curve(c.Y/white.Y), curve(c.Z/white.Z))
}

// LabOf returns the CIELAB colour of an 8-bit sRGB pixel.
func LabOf(r, g, b uint8) Lab {
	return XYZOf(linear[r], linear[g], linear[b]).Lab(D65)
}

// LabOfLight returns the CIELAB colour of linear sRGB light, for whole pictures: the cube root comes from a table,
// which moves L by less than 0.001 and A and B by less than 0.005. Light above 1 is allowed and gives L above 100.
func LabOfLight(r, g, b float64) Lab {
	c := XYZOf(r, g, b)
	return labOf(quickCurve(c.X/D65.X), quickCurve(c.Y/D65.Y), quickCurve(c.Z/D65.Z))
}

// Lightness returns L, 0 to 100, of a relative luminance 0 to 1, by the same table as LabOfLight.
func Lightness(luminance float64) float64 { return 116*quickCurve(luminance) - 16 }

// Chroma returns the distance from grey, 0 and up.
func (c Lab) Chroma() float64 { return math.Hypot(c.A, c.B) }

func labOf(x, y, z float64) Lab { return Lab{116*y - 16, 500 * (x - y), 200 * (y - z)} }

func curve(ratio float64) float64 {
	if ratio > kneeRatio {
		return math.Cbrt(ratio)
	}
	return kneeSlope*ratio + 16.0/116
}

const curveSteps = 4096

// curveTable holds curve at 0, 1/curveSteps, ... 1.
var curveTable = func() (table [curveSteps + 1]float64) {
	for i := range table {
		table[i] = curve(float64(i) / curveSteps)
	}
	return table
}()

// quickCurve is curve by linear interpolation in curveTable; ratios that the table does not span are computed.
func quickCurve(ratio float64) float64 {
	at := ratio * curveSteps
	if !(at >= 0 && at < curveSteps) {
		return curve(ratio)
	}
	i := int(at)
	return curveTable[i] + (at-float64(i))*(curveTable[i+1]-curveTable[i])
}
