package photo

import (
	"encoding/binary"
	"image"
	"image/draw"
)

// layYCbCr fills flat with opaque pixels of a stored picture from corner on, with the same bytes as image/draw. Most
// cameras keep one colour for two pixels side by side; here what the two have in common is worked out once.
func layYCbCr(flat *image.RGBA, stored *image.YCbCr, corner image.Point) {
	ratio := stored.SubsampleRatio
	paired := ratio == image.YCbCrSubsampleRatio420 || ratio == image.YCbCrSubsampleRatio422
	if !paired || corner.X%2 != 0 {
		draw.Draw(flat, flat.Rect, stored, corner, draw.Src)
		return
	}
	width := flat.Rect.Dx()
	for y := range flat.Rect.Dy() {
		luma := stored.Y[stored.YOffset(corner.X, corner.Y+y):][:width]
		at := stored.COffset(corner.X, corner.Y+y)
		blue, red := stored.Cb[at:][:(width+1)/2], stored.Cr[at:][:(width+1)/2]
		pix := flat.Pix[y*flat.Stride:][:4*width]
		for i, cb := range blue {
			c := chromaOf(cb, red[i])
			two := pix[8*i:]
			binary.LittleEndian.PutUint32(two, c.with(luma[2*i]))
			if 2*i+1 < width {
				binary.LittleEndian.PutUint32(two[4:], c.with(luma[2*i+1]))
			}
		}
	}
}

// chroma is what a colour adds to red, green and blue, in 1/65536 (JPEG File Interchange Format 1.02, as image/color
// rounds it).
type chroma struct{ red, green, blue int32 }

func chromaOf(cb, cr uint8) chroma {
	b, r := int32(cb)-128, int32(cr)-128
	return chroma{91881 * r, -22554*b - 46802*r, 116130 * b}
}

// with returns the bytes of an opaque pixel of that luma, red first.
func (c chroma) with(luma uint8) uint32 {
	y := int32(luma) * 0x10101
	return eightBit(y+c.red) | eightBit(y+c.green)<<8 | eightBit(y+c.blue)<<16 | 0xff<<24
}

// eightBit cuts a value in 1/65536 to 0 to 255.
func eightBit(v int32) uint32 {
	if uint32(v)&0xff000000 == 0 {
		return uint32(v) >> 16
	}
	return uint32(^(v >> 31)) & 0xff
}
