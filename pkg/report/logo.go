package report

import (
	"bytes"
	"errors"
	"fmt"
	"image"
	"image/color"
	"image/draw"
	_ "image/jpeg" // logos may be JPEG, too

	"valvegrade/internal/jpegframe"
	"valvegrade/internal/limit"

	"github.com/disintegration/imaging"
)

// ErrLogo is wrapped by every error about a logo's content.
var ErrLogo = errors.New("the logo is not a PNG or JPEG picture")

// The box in pixels that a logo is fitted into.
const (
	logoWidth  = 480
	logoHeight = 200
)

// ReadLogo reads a PNG or JPEG file and returns it drawn anew on white, so that nothing but its pixels gets into a
// report.
func ReadLogo(path string) (*Picture, error) {
	data, err := limit.ReadFile(path, limit.LogoBytes)
	var large *limit.TooLarge
	switch {
	case errors.As(err, &large), errors.Is(err, limit.ErrNoFile):
		return nil, fmt.Errorf("%w: %s: %w", ErrLogo, path, err)
	case err != nil:
		return nil, fmt.Errorf("logo: %w", err)
	}
	facts, format, err := image.DecodeConfig(bytes.NewReader(data))
	switch {
	case err != nil || (format != "png" && format != "jpeg"):
		return nil, fmt.Errorf("%w: %s", ErrLogo, path)
	case facts.Width > limit.LogoPixels/max(1, facts.Height):
		return nil, fmt.Errorf(
			"%w: %s has %dx%d pixels, more than %d million",
			ErrLogo,
			path,
			facts.Width,
			facts.Height,
			limit.LogoPixels/1_000_000,
		)
	}
	if scans := jpegframe.Read(data).Scans; format == "jpeg" && scans > limit.PhotoScans {
		return nil, fmt.Errorf("%w: %s has %d scans, more than %d", ErrLogo, path, scans, limit.PhotoScans)
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
