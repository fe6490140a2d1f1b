package photo

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"image"
	"image/jpeg"
	"image/png"

	"golang.org/x/image/bmp"
	"golang.org/x/image/tiff"
)

// Decode turns the bytes of an image file into an upright photo. The error, if any, wraps one of the Err variables of
// this package. It accepts any bytes; data is not kept.
//
// Transparent pixels are laid over black, 16-bit samples lose their low byte, and a palette index without a colour is
// black.
func Decode(name string, data []byte, l Limits) (*Photo, error) {
	p, err := decode(data, l.filled())
	if err != nil {
		return nil, named(name, err)
	}
	p.Name = name
	return p, nil
}

func decode(data []byte, l Limits) (*Photo, error) {
	if err := l.checkBytes(int64(len(data))); err != nil {
		return nil, err
	}
	f, err := recognise(data)
	if err != nil {
		return nil, err
	}
	if f.moves != nil && f.moves(data) {
		return nil, refuse(ErrUnsupported, nil, "the file is an animation (%s)", f.name)
	}
	stored, whole, err := pixels(f, data, l)
	if err != nil {
		return nil, err
	}
	facts := capture(f, data)
	upright := upright(stored, facts.orientation)
	if facts.turned() {
		whole = image.Pt(whole.Y, whole.X)
	}
	sum := sha256.Sum256(data)
	return &Photo{
		SHA256: hex.EncodeToString(sum[:]),
		Format: f.name,
		Pixels: upright,
		Width:  upright.Rect.Dx(), Height: upright.Rect.Dy(),
		Shrunk: shrinking(whole, l.KeptPixels), Whole: whole,
		Taken:   facts.taken,
		Profile: facts.profile,
	}, nil
}

// pixels decodes the picture as it is stored, averaged down by a whole number where it is large, once its header
// promises to stay within the limits; whole is its size in the file. A decoder that panics has met a damaged file: it
// runs in this goroutine so that the panic can be caught.
func pixels(f *format, data []byte, l Limits) (flat *image.NRGBA, whole image.Point, err error) {
	from, stop := newSource(data, l.MaxTime)
	defer stop()
	defer func() {
		if p := recover(); p != nil {
			err = refuse(
				ErrTruncated,
				fmt.Errorf("decoder panic: %v", p),
				"its %s data is cut short or damaged",
				f.name,
			)
		}
		if err != nil && from.late() != nil {
			err = refuse(ErrTooSlow, nil, "reading it takes more than %v of the processor's time", l.MaxTime)
		}
	}()
	if f.check != nil {
		if err := f.check(data); err != nil {
			return nil, whole, err
		}
	}
	stored, err := f.read(f, from, l)
	if err != nil {
		return nil, whole, undecodable(f, err)
	}
	whole = stored.Bounds().Size()
	if err := l.checkSize(whole); err != nil { // a frame may be smaller than its header says
		return nil, whole, err
	}
	return flatten(stored, shrinking(whole, l.KeptPixels)), whole, nil
}

// shrinking is the whole number by which both sides of a picture are divided to leave at most so many pixels.
func shrinking(size image.Point, pixels int) int {
	factor := 1
	for size.X/factor*(size.Y/factor) > pixels {
		factor++
	}
	return factor
}

// undecodable tells a rare variant of a format from a damaged file; a refusal stays as it is.
func undecodable(f *format, err error) error {
	var (
		known       *refusal
		jpegVariant jpeg.UnsupportedError
		pngVariant  png.UnsupportedError
		tiffVariant tiff.UnsupportedError
	)
	switch {
	case errors.As(err, &known):
		return err
	case errors.As(err, &jpegVariant), errors.As(err, &pngVariant), errors.As(err, &tiffVariant),
		errors.Is(err, bmp.ErrUnsupported):
		return refuse(ErrUnsupported, err, "this variant of %s is not supported", f.name)
	}
	return refuse(ErrTruncated, err, "its %s data is cut short or damaged", f.name)
}
