package photo

import (
	"image"
	"image/color"
	"image/draw"

	"github.com/disintegration/imaging"
)

// flatten copies any decoded image into opaque, tightly packed NRGBA with its origin at (0,0), transparency laid over black; each
// pixel is the mean of factor x factor stored ones.
//
// This happens before the imaging library sees a pixel: that library works in goroutines of its own, where a panic over a
// bad palette could not be caught.
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
	band := image.NewNRGBA(image.Rect(0, 0, flat.Rect.Dx()*factor, factor))
	sums := make([]int, 4*flat.Rect.Dx())
	for y := range flat.Rect.Dy() {
		lay(band, stored, corner.Add(image.Pt(0, y*factor)))
		average(flat.Pix[y*flat.Stride:][:flat.Stride], band, sums, factor)
	}
	return flat
}

// lay fills flat with what the stored image shows from corner on, over black.
func lay(flat *image.NRGBA, stored image.Image, corner image.Point) {
	// Opaque pixels are the same bytes with and without premultiplied alpha.
	opaque := &image.RGBA{Pix: flat.Pix, Stride: flat.Stride, Rect: flat.Rect}
	how := draw.Src
	if _, colours := stored.(*image.YCbCr); !colours {
		how = draw.Over
		for i := range flat.Pix {
			flat.Pix[i] = 0
		}
		for i := 3; i < len(flat.Pix); i += 4 {
			flat.Pix[i] = 0xff
		}
	}
	draw.Draw(opaque, opaque.Rect, stored, corner, how)
}

// average fills a row with the means of the squares in a band of factor rows. sums is room for a value for each byte of the row.
func average(row []uint8, band *image.NRGBA, sums []int, factor int) {
	clear(sums)
	for line := range factor {
		pix := band.Pix[line*band.Stride:][:band.Stride]
		for at := 0; at < len(sums); at += 4 {
			sum := sums[at:][:4]
			for range factor {
				code := pix[:4]
				sum[0], sum[1], sum[2], sum[3] = sum[0]+int(code[0]), sum[1]+int(code[1]), sum[2]+int(code[2]), sum[3]+int(code[3])
				pix = pix[4:]
			}
		}
	}
	area := factor * factor
	for i, sum := range sums {
		row[i] = uint8((sum + area/2) / area)
	}
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
