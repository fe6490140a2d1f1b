package photo

import (
	"image"
	"image/color"
	"image/draw"

	"github.com/disintegration/imaging"

	"valvegrade/internal/raster"
)

// flatten copies any decoded image into opaque, tightly packed NRGBA with its origin at (0,0), transparency laid over
// black; each pixel is the mean of factor x factor stored ones.
//
// This happens before the imaging library sees a pixel: that library works in goroutines of its own, where a panic over
// a bad palette could not be caught.
func flatten(stored image.Image, factor int) *image.NRGBA {
	if p, ok := stored.(*image.Paletted); ok {
		stored = wholePalette(p)
	}
	size, corner := stored.Bounds().Size(), stored.Bounds().Min
	if factor == 1 {
		flat := image.NewNRGBA(image.Rectangle{Max: size})
		lay(flat, stored, corner)
		return flat
	}
	flat := image.NewNRGBA(image.Rect(0, 0, size.X/factor, size.Y/factor))
	width, height := flat.Rect.Dx(), flat.Rect.Dy()
	band := image.NewNRGBA(image.Rect(0, 0, width*factor, min(bandRows, height)*factor))
	for top := 0; top < height; top += bandRows {
		rows := min(bandRows, height-top)
		part := band.SubImage(image.Rect(0, 0, width*factor, rows*factor)).(*image.NRGBA)
		lay(part, stored, corner.Add(image.Pt(0, top*factor)))
		raster.Shrink(part, width, rows, func(y int, means []float32) {
			for pix := flat.Pix[(top+y)*flat.Stride:][:flat.Stride]; len(pix) > 0; pix, means = pix[4:], means[3:] {
				pix[0], pix[1], pix[2], pix[3] = uint8(means[0]+0.5), uint8(means[1]+0.5), uint8(means[2]+0.5), 0xff
			}
		})
	}
	return flat
}

// bandRows is how many rows of a picture are shrunk at once: few, for a large picture is not to be held twice, but not
// one by one, for each band leaves memory to collect.
const bandRows = 64

// lay fills flat with what the stored image shows from corner on, over black.
func lay(flat *image.NRGBA, stored image.Image, corner image.Point) {
	opaque := raster.Opaque(flat)
	if colours, ok := stored.(*image.YCbCr); ok {
		layYCbCr(opaque, colours, corner)
		return
	}
	clear(flat.Pix)
	for i := 3; i < len(flat.Pix); i += 4 {
		flat.Pix[i] = 0xff
	}
	draw.Draw(opaque, opaque.Rect, stored, corner, draw.Over)
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
