package photo

import (
	"image"
	"image/color"
)

// Burnt and Black are the colours of pixels without detail in a picture of the exposure.
var (
	Burnt = color.NRGBA{0x6f, 0xe0, 0xf2, 0xff}
	Black = color.NRGBA{0x2b, 0x5c, 0x9e, 0xff}
)

// Exposed shows what the exposure in Quality is counted on: the luma of the pixels where mask is not 0, those with no
// detail left in the colours Burnt and Black. It is transparent elsewhere. The mask has the photo's size.
func Exposed(p *Photo, mask *image.Gray) *image.NRGBA {
	picture := image.NewNRGBA(p.Pixels.Rect)
	for y := range p.Height {
		for x, label := range mask.Pix[y*mask.Stride:][:p.Width] {
			if label == 0 {
				continue
			}
			shown := color.NRGBA{A: 0xff}
			switch luma := int(lumaAt(p.Pixels, x, y) + 0.5); {
			case luma >= glareCode:
				shown = Burnt
			case luma <= blackCode:
				shown = Black
			default:
				shown.R, shown.G, shown.B = uint8(luma), uint8(luma), uint8(luma)
			}
			picture.SetNRGBA(x, y, shown)
		}
	}
	return picture
}
