package pdf

import (
	"image/color"

	"valvegrade/internal/ramp"
)

// style is how a text is set. size is in points, leading the distance of its lines in sizes.
type style struct {
	size, leading float64
	faces         []*face
	colour        color.RGBA
}

// Colours of text and rules.
var (
	ink   = color.RGBA{0x26, 0x22, 0x1f, 0xff}
	soft  = color.RGBA{0x5d, 0x57, 0x51, 0xff}
	line  = color.RGBA{0xd9, 0xd2, 0xc8, 0xff}
	night = color.RGBA{0x15, 0x19, 0x1c, 0xff}
	white = color.RGBA{0xff, 0xff, 0xff, 0xff}
	bore  = color.RGBA{0xe9, 0xe4, 0xdc, 0xff}
)

// The styles of the report.
var (
	title   = style{20, 1.2, bold, ink}
	chapter = style{13.5, 1.25, bold, ink}
	section = style{11, 1.3, bold, ink}
	label   = style{9, 1.3, bold, ink}
	lead    = style{11.5, 1.35, regular, ink}
	body    = style{9, 1.4, regular, ink}
	strong  = style{9, 1.4, bold, ink}
	small   = style{7.5, 1.35, regular, soft}
	caption = style{7.5, 1.35, bold, soft}
	cell    = style{8.2, 1.35, regular, ink}
	fine    = style{6, 1.35, regular, ink}
)

const millimetresPerPoint = 25.4 / 72

// mm is the type size in millimetres.
func (s style) mm() float64 { return s.size * millimetresPerPoint }

// lineHeight is the distance of two lines in millimetres.
func (s style) lineHeight() float64 { return s.mm() * s.leading }

// classColours are those of plates, bars and legends, by the class that the model names.
var classColours = map[string]color.RGBA{
	"0": ramp.Grade(0), "1": ramp.Grade(1), "2": ramp.Grade(2), "3": ramp.Grade(3), "4": ramp.Grade(4), "none": white,
	"bare": ramp.Grade(0), "film": ramp.Grade(1), "medium": ramp.Grade(3), "heavy": ramp.Grade(4),
}

// readableOn is the colour of a digit on the colour of a class.
func readableOn(class string) color.RGBA {
	if class == "3" || class == "4" {
		return white
	}
	return night
}
