package photo

import (
	"image"
	"image/color"
	"image/draw"

	"github.com/disintegration/imaging"
)

// flatten copies any decoded image into opaque, tightly packed NRGBA with its origin at (0,0), transparency laid over black.
//
// This happens before the imaging library sees a pixel: that library works in goroutines of its own, where a panic over a
// bad palette could not be caught.
func flatten(stored image.Image) *image.NRGBA {
	if p, ok := stored.(*image.Paletted); ok {
		stored = wholePalette(p)
	}
	size := stored.Bounds().Size()
	flat := image.NewRGBA(image.Rectangle{Max: size})
	how := draw.Src
	if _, opaque := stored.(*image.YCbCr); !opaque {
		how = draw.Over
		for i := 3; i < len(flat.Pix); i += 4 {
			flat.Pix[i] = 0xff
		}
	}
	draw.Draw(flat, flat.Rect, stored, stored.Bounds().Min, how)
	// Opaque pixels are the same bytes with and without premultiplied alpha.
	return &image.NRGBA{Pix: flat.Pix, Stride: flat.Stride, Rect: flat.Rect}
}

// wholePalette gives every possible index a colour: those that the file left out are black.
func wholePalette(p *image.Paletted) *image.Paletted {
	whole := *p
	whole.Palette = append(color.Palette(nil), p.Palette...)
	for len(whole.Palette) < 256 {
		whole.Palette = append(whole.Palette, color.Black)
	}
	return &whole
}

// upright undoes an EXIF orientation (CIPA DC-008, tag 0x0112): its value says where row 0 and column 0 of the stored
// picture belong. Values outside 2 to 8 mean that it is upright already.
func upright(stored *image.NRGBA, orientation int) *image.NRGBA {
	switch orientation {
	case 2: // top right
		return imaging.FlipH(stored)
	case 3: // bottom right
		return imaging.Rotate180(stored)
	case 4: // bottom left
		return imaging.FlipV(stored)
	case 5: // left top
		return imaging.Transpose(stored)
	case 6: // right top
		return imaging.Rotate270(stored)
	case 7: // right bottom
		return imaging.Transverse(stored)
	case 8: // left bottom
		return imaging.Rotate90(stored)
	}
	return stored
}
