package colour

import "math"

// linear holds Decode of every 8-bit code.
var linear = func() (table [256]float64) {
	for code := range table {
		table[code] = Decode(float64(code) / 255)
	}
	return table
}()

// Linear returns the linear light, 0 to 1, of an 8-bit sRGB code.
func Linear(code uint8) float64 { return linear[code] }

// Decode returns the linear light of an sRGB value; both run from 0 to 1 (IEC 61966-2-1).
func Decode(value float64) float64 {
	if value <= 0.04045 {
		return value / 12.92
	}
	return math.Pow((value+0.055)/1.055, 2.4)
}

// Encode is the inverse of Decode. Light outside 0..1 is clipped, as a display does.
func Encode(light float64) float64 {
	light = math.Max(0, math.Min(1, light))
	if light <= 0.0031308 {
		return 12.92 * light
	}
	root := math.Cbrt(light) // light^(1/2.4) = light^(1/3) light^(1/12), and roots are quicker than powers
	return 1.055*root*math.Sqrt(math.Sqrt(root)) - 0.055
}

// Luminance returns the relative luminance Y, 0 to 1, of linear light.
func Luminance(r, g, b float64) float64 {
	return toXYZ[1][0]*r + toXYZ[1][1]*g + toXYZ[1][2]*b
}
