package net

import (
	"image"

	"valvegrade/internal/raster"
)

// letterbox returns a net's input: three planes (red, green, blue) of the frame, values 0 to 1, black outside the
// photo.
func letterbox(img *image.NRGBA, p placement) []float32 {
	const plane = frameWidth * frameHeight
	input := make([]float32, 3*plane)
	width, height := p.upright()
	scale := raster.Shrink
	if p.part.Dx() < width && p.part.Dy() < height { // equal areas would show as blocks
		scale = enlarge
	}
	scale(img.SubImage(p.part).(*image.NRGBA), width, height, func(y int, values []float32) {
		for x := range width {
			fx, fy := p.framePixel(x, y)
			at := fy*frameWidth + fx
			rgb := values[3*x:][:3]
			input[at] = rgb[0] / 255
			input[plane+at] = rgb[1] / 255
			input[2*plane+at] = rgb[2] / 255
		}
	})
	return input
}

// enlarge interpolates img to width x height pixels and calls take with each row: three values of 0 to 255 per pixel,
// good until the next call.
func enlarge(img *image.NRGBA, width, height int, take func(y int, values []float32)) {
	columns := raster.Places(0, width, float64(width)/float64(img.Rect.Dx()), img.Rect.Dx())
	values := make([]float32, 3*width)
	for y, line := range raster.Places(0, height, float64(height)/float64(img.Rect.Dy()), img.Rect.Dy()) {
		upper, lower := img.Pix[line.First*img.Stride:], img.Pix[line.Second*img.Stride:]
		for x, column := range columns {
			left, right := 4*column.First, 4*column.Second
			for k := range 3 {
				above := between(upper[left+k], upper[right+k], column.Share)
				below := between(lower[left+k], lower[right+k], column.Share)
				values[3*x+k] = above + line.Share*(below-above)
			}
		}
		take(y, values)
	}
}

func between(a, b uint8, share float32) float32 {
	return float32(a) + share*(float32(b)-float32(a))
}
