// Package ramp holds the colours that stand for deposit wherever the program draws.
//
// One ramp from pale steel through sand and umber to near-black reads like the deposit itself and darkens steadily, so
// it survives grey printing and colour-blind eyes.
package ramp

import "image/color"

// The colours of the ramp, pale to dark.
var (
	Steel  = color.RGBA{0xc9, 0xd6, 0xde, 0xff}
	Sand   = color.RGBA{0xe0, 0xbd, 0x7a, 0xff}
	Copper = color.RGBA{0xb9, 0x80, 0x4a, 0xff}
	Umber  = color.RGBA{0x8e, 0x4f, 0x21, 0xff}
	Soot   = color.RGBA{0x1c, 0x13, 0x10, 0xff}
)

// Grade returns the colour of a grade, 0 to 4. It panics outside: a programming mistake.
func Grade(value int) color.RGBA { return [...]color.RGBA{Steel, Sand, Copper, Umber, Soot}[value] }
