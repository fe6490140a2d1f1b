package photo

import (
	"bytes"
	"cmp"
	"context"
	"errors"
	"image"
	"io"
	"runtime"
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
	end    context.CancelCauseFunc
	clock  threadClock
	until  time.Duration // by the clock
}

// watchInterval is how often it is looked whether the time of a decoder is over that does not read.
const watchInterval = 50 * time.Millisecond

// newSource returns data as it may be read until the calling goroutine has used so much of a processor's time. Call
// stop, from the same goroutine, when decoding is over.
func newSource(data []byte, most time.Duration) (s *source, stop func()) {
	runtime.LockOSThread()
	ctx, end := context.WithCancelCause(context.Background())
	s = &source{reader: bytes.NewReader(data), data: data, ctx: ctx, end: end, clock: ownClock()}
	s.until = s.clock.used() + most
	go s.watch()
	return s, func() {
		end(nil)
		runtime.UnlockOSThread()
	}
}

// watch ends the context when the time is over.
func (s *source) watch() {
	for s.late() == nil {
		select {
		case <-s.ctx.Done():
		case <-time.After(watchInterval):
		}
	}
}

// late returns errLate once the time is over.
func (s *source) late() error {
	if s.ctx.Err() == nil && s.clock.used() > s.until {
		s.end(errLate)
	}
	return context.Cause(s.ctx)
}

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
	picture, err := heic.Decode(s.ctx, s.data, l.checkSize)
	return picture, cmp.Or(s.late(), err)
}
