package photo

import (
	"bytes"
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

// Decode turns the bytes of an image file into an upright photo. The error, if any, wraps one of the Err variables of this
// package. It accepts any bytes; data is not kept.
//
// Transparent pixels are laid over black, 16-bit samples lose their low byte, and a palette index without a colour is black.
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
	stored, err := pixels(f, data, l)
	if err != nil {
		return nil, err
	}
	facts := capture(f, data)
	upright := upright(stored, facts.orientation)
	sum := sha256.Sum256(data)
	return &Photo{
		SHA256: hex.EncodeToString(sum[:]),
		Format: f.name,
		Pixels: upright,
		Width:  upright.Rect.Dx(), Height: upright.Rect.Dy(),
		Taken:   facts.taken,
		Profile: facts.profile,
	}, nil
}

// pixels decodes the picture as it is stored, once its header promises to stay within the limits. A decoder that panics has
// met a damaged file: it runs in this goroutine so that the panic can be caught.
func pixels(f *format, data []byte, l Limits) (flat *image.NRGBA, err error) {
	defer func() {
		if p := recover(); p != nil {
			flat, err = nil, refuse(ErrTruncated, fmt.Errorf("decoder panic: %v", p), "its %s data is cut short or damaged", f.name)
		}
	}()
	config, err := f.config(bytes.NewReader(data))
	if err != nil {
		return nil, undecodable(f, err)
	}
	if err := l.checkSize(image.Pt(config.Width, config.Height)); err != nil {
		return nil, err
	}
	stored, err := f.decode(bytes.NewReader(data))
	if err != nil {
		return nil, undecodable(f, err)
	}
	if err := l.checkSize(stored.Bounds().Size()); err != nil { // a frame may be smaller than its header says
		return nil, err
	}
	return flatten(stored), nil
}

// undecodable tells a rare variant of a format from a damaged file.
func undecodable(f *format, err error) error {
	var (
		jpegVariant jpeg.UnsupportedError
		pngVariant  png.UnsupportedError
		tiffVariant tiff.UnsupportedError
	)
	switch {
	case errors.As(err, &jpegVariant), errors.As(err, &pngVariant), errors.As(err, &tiffVariant),
		errors.Is(err, bmp.ErrUnsupported):
		return refuse(ErrUnsupported, err, "this variant of %s is not supported", f.name)
	}
	return refuse(ErrTruncated, err, "its %s data is cut short or damaged", f.name)
}
