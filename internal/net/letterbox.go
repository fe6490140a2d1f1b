package net

import (
	"image"

	"valvegrade/internal/raster"
)

// letterbox returns the net's input: three planes (red, green, blue) of the frame, values 0 to 1, black outside the photo.
func letterbox(img *image.NRGBA, p placement) []float32 {
	const plane = frameWidth * frameHeight
	input := make([]float32, 3*plane)
	width, height := p.upright()
	raster.Shrink(img, width, height, func(y int, means []float32) {
		for x := range width {
			fx, fy := p.framePixel(x, y)
			at := fy*frameWidth + fx
			rgb := means[3*x:][:3]
			input[at] = rgb[0] / 255
			input[plane+at] = rgb[1] / 255
			input[2*plane+at] = rgb[2] / 255
		}
	})
	return input
}
