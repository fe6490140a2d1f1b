package report

import (
	"bytes"
	"fmt"
	"image"
	"image/jpeg"
	"image/png"

	"github.com/disintegration/imaging"

	"valvegrade/internal/raster"
)

// Picture is an encoded picture, made from pixels alone: whatever else the file of a photo carries (position, camera,
// owner) cannot be in it.
type Picture struct {
	// Type is "image/jpeg" or "image/png".
	Type          string
	Data          []byte
	Width, Height int
}

// Sizes tried for a photo, in pixels of its long side, and JPEG qualities tried at each size.
var (
	photoSides     = [...]int{960, 800, 640, 560, 480, 400, 320}
	photoQualities = [...]int{80, 65}
)

// NewPhotoPicture returns the photo as JPEG in the first of the report's sizes and qualities, the best first, that
// takes at most maxBytes, or in the last if none does. It is never enlarged.
func NewPhotoPicture(photo image.Image, maxBytes int) (*Picture, error) {
	var picture *Picture
	for _, side := range photoSides {
		size := photo.Bounds().Size()
		if picture != nil && side >= max(size.X, size.Y) {
			continue // the same as before
		}
		fitted := raster.Opaque(imaging.Fit(photo, side, side, imaging.Box))
		for _, quality := range photoQualities {
			var data bytes.Buffer
			if err := jpeg.Encode(&data, fitted, &jpeg.Options{Quality: quality}); err != nil {
				return nil, fmt.Errorf("report: %w", err)
			}
			picture = &Picture{
				Type:   "image/jpeg",
				Data:   data.Bytes(),
				Width:  fitted.Rect.Dx(),
				Height: fitted.Rect.Dy(),
			}
			if data.Len() <= maxBytes {
				return picture, nil
			}
		}
	}
	return picture, nil
}

// NewDrawing returns a drawn picture, such as a map or a logo, as PNG of its own size.
func NewDrawing(drawing image.Image) (*Picture, error) {
	var data bytes.Buffer
	encoder := png.Encoder{CompressionLevel: png.DefaultCompression} // the best takes three times as long, and a report is 1 % smaller
	if err := encoder.Encode(&data, drawing); err != nil {
		return nil, fmt.Errorf("report: %w", err)
	}
	size := drawing.Bounds().Size()
	return &Picture{Type: "image/png", Data: data.Bytes(), Width: size.X, Height: size.Y}, nil
}
