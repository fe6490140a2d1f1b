package draw

import (
	"image/color"

	"valvegrade/internal/ramp"
	"valvegrade/pkg/deposit"
)

// Outlines are pale with a dark casing, so that one of the two stands out on bright metal and on black crust alike.
var (
	outlineCore   = color.RGBA{0x6f, 0xe0, 0xf2, 0xff}
	outlineCasing = color.RGBA{0x06, 0x22, 0x2b, 0xff}
)

// Colours of the caption strip, dark as the photos above it.
var (
	paper = color.RGBA{0x15, 0x19, 0x1c, 0xff}
	ink   = color.RGBA{0xf1, 0xec, 0xe4, 0xff}
	faint = color.RGBA{0x9d, 0xa3, 0xa6, 0xff}
)

// Colours of the residue map, which is printed: black on white, and pale what is out of sight, paler than bare metal.
var (
	white     = color.RGBA{0xff, 0xff, 0xff, 0xff}
	black     = paper
	pencil    = color.RGBA{0x59, 0x60, 0x65, 0xff}
	unseen    = color.RGBA{0xf0, 0xf0, 0xee, 0xff}
	onceSeen  = color.RGBA{0xb4, 0xb7, 0xb9, 0xff}
	fineLines = color.RGBA{0x8a, 0x90, 0x94, 0xff}
)

// tint is how a deposit class is laid over the photo. alpha, 0 to 1, grows with the class: bare metal stays visible as
// metal, and the relief of crust under its tint.
type tint struct {
	name   string
	colour color.RGBA
	alpha  float64
}

var tints = [...]tint{
	deposit.Bare:   {"bare", ramp.Steel, 0.12},
	deposit.Film:   {"film", ramp.Sand, 0.28},
	deposit.Medium: {"medium", ramp.Umber, 0.34},
	deposit.Heavy:  {"heavy", ramp.Soot, 0.40},
}

// blend returns under covered by over with the opacity alpha, 0 to 1.
func blend(under, over color.RGBA, alpha float64) color.RGBA {
	mix := func(a, b uint8) uint8 { return uint8(float64(a) + (float64(b)-float64(a))*alpha + 0.5) }
	return color.RGBA{mix(under.R, over.R), mix(under.G, over.G), mix(under.B, over.B), 0xff}
}

// contrasting returns the ink or the paper, whichever is easier to read on the background.
func contrasting(background color.RGBA) color.RGBA {
	if 299*int(background.R)+587*int(background.G)+114*int(background.B) > 128*1000 {
		return paper
	}
	return ink
}
