package raster

import "image"

// Opaque returns an opaque picture, whose bytes are the same with and without premultiplied alpha, in the form that
// image/jpeg encodes in half the time and image/draw draws on quickly. It shares the pixels.
func Opaque(picture *image.NRGBA) *image.RGBA {
	return &image.RGBA{Pix: picture.Pix, Stride: picture.Stride, Rect: picture.Rect}
}
