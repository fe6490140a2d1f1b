package heic

import (
	"fmt"
	"image"
)

// Numbers of libheif (heif.h, heif_colorspace and heif_chroma).
const (
	spaceYCbCr, spaceRGB, spaceGrey = 0, 1, 2
	chroma420, chroma422, chroma444 = 1, 2, 3
)

// layout says how the program lays a picture into memory: rows padded to 16 bytes, one plane behind the other.
type layout struct {
	facts
	row, chromaRow, chromaRows int
	ratio                      image.YCbCrSubsampleRatio
	bytes                      int
}

func (f facts) layout() (layout, error) {
	l := layout{facts: f}
	width, height := int(f.Width), int(f.Height)
	switch f.Space {
	case spaceGrey:
		l.row = padded(width)
	case spaceRGB:
		l.row = padded(4 * width)
	case spaceYCbCr:
		l.row, l.chromaRow, l.chromaRows = padded(width), padded(width), height
		switch f.Chroma {
		case chroma420:
			l.ratio, l.chromaRow, l.chromaRows = image.YCbCrSubsampleRatio420, padded((width+1)/2), (height+1)/2
		case chroma422:
			l.ratio, l.chromaRow = image.YCbCrSubsampleRatio422, padded((width+1)/2)
		case chroma444:
			l.ratio = image.YCbCrSubsampleRatio444
		default:
			return l, fmt.Errorf("%w: chroma %d", ErrDamaged, f.Chroma)
		}
	default:
		return l, fmt.Errorf("%w: colour space %d", ErrDamaged, f.Space)
	}
	l.bytes = l.row*height + 2*l.chromaRow*l.chromaRows
	return l, nil
}

func padded(bytes int) int { return (bytes + 15) &^ 15 }

// picture gives the bytes their form.
func (l layout) picture(pix []byte) image.Image {
	rect := image.Rect(0, 0, int(l.Width), int(l.Height))
	switch {
	case l.Space == spaceGrey:
		return &image.Gray{Pix: pix, Stride: l.row, Rect: rect}
	case l.Space == spaceRGB && l.Premultiplied == 1:
		return &image.RGBA{Pix: pix, Stride: l.row, Rect: rect}
	case l.Space == spaceRGB:
		return &image.NRGBA{Pix: pix, Stride: l.row, Rect: rect}
	}
	cb, cr := l.row*int(l.Height), l.row*int(l.Height)+l.chromaRow*l.chromaRows
	return &image.YCbCr{
		Y:              pix[:cb:cb],
		Cb:             pix[cb:cr:cr],
		Cr:             pix[cr:],
		YStride:        l.row,
		CStride:        l.chromaRow,
		SubsampleRatio: l.ratio,
		Rect:           rect,
	}
}
