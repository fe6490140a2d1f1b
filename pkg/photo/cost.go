package photo

import (
	"image"
	"image/color"

	"valvegrade/internal/jpegframe"
)

// This file says what decoding takes, in bytes for each pixel of the picture: the decoded picture and what its decoder
// holds beside it.

// onePicture is the cost of a decoder that needs its picture alone.
func onePicture(_ []byte, header image.Config) float64 { return depth(header.ColorModel) }

// withStrips is the cost of TIFF: one strip may be as large as the picture, and is held whole.
func withStrips(_ []byte, header image.Config) float64 { return 2 * depth(header.ColorModel) }

// withPasses is the cost of PNG, which holds passes of an interlaced picture (Portable Network Graphics, third edition,
// 11.2.1) apart, the largest half as large as the picture.
func withPasses(data []byte, header image.Config) float64 {
	const interlace = 8 + 8 + 12 // behind the signature and the head of the first chunk
	if len(data) > interlace && data[interlace] != 0 {
		return 1.5 * depth(header.ColorModel)
	}
	return depth(header.ColorModel)
}

// webpCost counts a lossless picture twice: its transforms are undone from one copy to the next.
func webpCost(_ []byte, header image.Config) float64 {
	if header.ColorModel == color.NRGBAModel {
		return 8
	}
	return depth(header.ColorModel)
}

// jpegCost counts the samples of all components, and their coefficients of 4 bytes where scans refine each other.
func jpegCost(data []byte, header image.Config) float64 {
	frame := jpegframe.Read(data)
	cost := frame.Samples
	if frame.Progressive {
		cost += 4 * frame.Samples
	}
	if header.ColorModel == color.CMYKModel || header.ColorModel == color.RGBAModel { // copied once more
		cost += 4
	}
	return cost
}

// depth is the size of a pixel in the Go picture of a colour model.
func depth(m color.Model) float64 {
	switch m {
	case color.GrayModel:
		return 1
	case color.Gray16Model:
		return 2
	case color.RGBA64Model, color.NRGBA64Model:
		return 8
	}
	if _, paletted := m.(color.Palette); paletted {
		return 1
	}
	return 4
}
