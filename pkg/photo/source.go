package photo

import (
	"bytes"
	"context"
	"errors"
	"image"
	"io"
	"time"

	"valvegrade/internal/heic"
)

// errLate is what a decoder is told that asks for more of a file after its time.
var errLate = errors.New("the time for decoding is over")

// piece is how much of a file a decoder gets at once: little, for a few bytes can stand for a pass over the whole
// picture.
const piece = 256

// source is a file in memory as a decoder reads it: until its time is over.
type source struct {
	reader *bytes.Reader
	data   []byte
	ctx    context.Context
}

// newSource returns data as it may be read for so long. Call stop when decoding is over.
func newSource(data []byte, time time.Duration) (s *source, stop func()) {
	ctx, stop := context.WithTimeoutCause(context.Background(), time, errLate)
	return &source{bytes.NewReader(data), data, ctx}, stop
}

func (s *source) late() error { return context.Cause(s.ctx) }

func (s *source) Read(p []byte) (int, error) {
	if err := s.late(); err != nil {
		return 0, err
	}
	return s.reader.Read(p[:min(len(p), piece)])
}

func (s *source) ReadAt(p []byte, at int64) (int, error) {
	if err := s.late(); err != nil {
		return 0, err
	}
	return s.reader.ReadAt(p, at)
}

// reading decodes a picture once the size that its header gives, and what it takes to decode that, are within the
// limits.
type reading func(f *format, s *source, l Limits) (image.Image, error)

// byLibrary reads with a library that looks into the header first; cost is the memory that decoding takes, in bytes a
// pixel.
func byLibrary(config func(io.Reader) (image.Config, error), decode func(io.Reader) (image.Image, error),
	cost func(data []byte, header image.Config) float64) reading {
	return func(f *format, s *source, l Limits) (image.Image, error) {
		header, err := config(s)
		if err != nil {
			return nil, err
		}
		size := image.Pt(header.Width, header.Height)
		if err := l.checkSize(size); err != nil {
			return nil, err
		}
		if err := l.checkMemory(f, len(s.data), size, cost(s.data, header)); err != nil {
			return nil, err
		}
		s.reader.Reset(s.data)
		return decode(s)
	}
}

// asHEIC reads with a decoder that bounds its own memory.
func asHEIC(_ *format, s *source, l Limits) (image.Image, error) {
	return heic.Decode(s.ctx, s.data, l.checkSize)
}
