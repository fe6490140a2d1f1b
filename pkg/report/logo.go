package report

import (
	"bytes"
	"errors"
	"fmt"
	"image"
	"image/color"
	"image/draw"
	_ "image/jpeg" // logos may be JPEG, too
	"os"

	"github.com/disintegration/imaging"
)

// ErrLogo is wrapped by every error about a logo's content.
var ErrLogo = errors.New("the logo is not a PNG or JPEG picture")

// Bounds of a logo: those of its file, and the box in pixels that it is fitted into.
const (
	mostLogoBytes  = 8 << 20
	mostLogoPixels = 16_000_000
	logoWidth      = 480
	logoHeight     = 200
)

// ReadLogo reads a PNG or JPEG file and returns it drawn anew on white, so that nothing but its pixels gets into a report.
func ReadLogo(path string) (*Picture, error) {
	info, err := os.Stat(path)
	if err != nil {
		return nil, fmt.Errorf("logo: %w", err)
	}
	if !info.Mode().IsRegular() || info.Size() > mostLogoBytes {
		return nil, fmt.Errorf("%w: %s is not a file of at most %d MiB", ErrLogo, path, mostLogoBytes>>20)
	}
	data, err := os.ReadFile(path)
	if err != nil {
		return nil, fmt.Errorf("logo: %w", err)
	}
	facts, format, err := image.DecodeConfig(bytes.NewReader(data))
	switch {
	case err != nil || (format != "png" && format != "jpeg"):
		return nil, fmt.Errorf("%w: %s", ErrLogo, path)
	case facts.Width*facts.Height > mostLogoPixels:
		return nil, fmt.Errorf("%w: %s has %dx%d pixels, more than %d million", ErrLogo, path, facts.Width, facts.Height, mostLogoPixels/1_000_000)
	}
	stored, _, err := image.Decode(bytes.NewReader(data))
	if err != nil {
		return nil, fmt.Errorf("%w: %s: %v", ErrLogo, path, err)
	}
	onWhite := image.NewNRGBA(image.Rectangle{Max: stored.Bounds().Size()})
	draw.Draw(onWhite, onWhite.Rect, image.NewUniform(color.White), image.Point{}, draw.Src)
	draw.Draw(onWhite, onWhite.Rect, stored, stored.Bounds().Min, draw.Over)
	return NewDrawing(imaging.Fit(onWhite, logoWidth, logoHeight, imaging.Lanczos))
}
