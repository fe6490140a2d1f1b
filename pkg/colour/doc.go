// Package colour turns 8-bit sRGB into light and into CIELAB, and says how far apart two colours look.
//
// The chain is sRGB code (0..255) -> linear light (0..1) -> CIE XYZ (Y of white is 1) -> CIELAB, all for illuminant D65
// and the 2 degree observer. Everything is computed in floating point: 8-bit Lab is wrong by up to 2.4 units. The
// functions are pure and safe for concurrent use; NaN in gives NaN out.
package colour
