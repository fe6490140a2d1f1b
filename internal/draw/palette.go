package draw

import (
	"image/color"

	"valvegrade/pkg/deposit"
)

// One ramp from pale steel through sand and umber to near-black stands for bare, film, medium and heavy, and for grades 0
// to 4. It reads like the deposit itself and darkens steadily, so it survives grey printing and colour-blind eyes.
var (
	steel  = color.RGBA{0xc9, 0xd6, 0xde, 0xff}
	sand   = color.RGBA{0xe0, 0xbd, 0x7a, 0xff}
	umber  = color.RGBA{0x8e, 0x4f, 0x21, 0xff}
	soot   = color.RGBA{0x1c, 0x13, 0x10, 0xff}
	copper = color.RGBA{0xb9, 0x80, 0x4a, 0xff}
)

// Outlines are pale with a dark casing, so that one of the two stands out on bright metal and on black crust alike.
var (
	outlineCore   = color.RGBA{0x6f, 0xe0, 0xf2, 0xff}
	outlineCasing = color.RGBA{0x06, 0x22, 0x2b, 0xff}
)

// Colours of the caption strip.
var (
	paper = color.RGBA{0x15, 0x19, 0x1c, 0xff}
	ink   = color.RGBA{0xf1, 0xec, 0xe4, 0xff}
	faint = color.RGBA{0x9d, 0xa3, 0xa6, 0xff}
)

// tint is how a deposit class is laid over the photo. alpha, 0 to 1, grows with the class: bare metal stays visible as metal.
type tint struct {
	name   string
	colour color.RGBA
	alpha  float64
}

var tints = [...]tint{
	deposit.Bare:   {"bare", steel, 0.22},
	deposit.Film:   {"film", sand, 0.45},
	deposit.Medium: {"medium", umber, 0.50},
	deposit.Heavy:  {"heavy", soot, 0.62},
}

var gradeColours = [...]color.RGBA{steel, sand, copper, umber, soot}

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
