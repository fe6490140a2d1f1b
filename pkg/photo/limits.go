package photo

import (
	"image"
	"time"

	"valvegrade/internal/limit"
)

// Limits bound what a file may cost. A zero field means its default, which package limit gives with the reason.
type Limits struct {
	// MaxBytes is the largest file, default 256 MiB.
	MaxBytes int64
	// MaxPixels is the largest width times height, default 64 000 000.
	MaxPixels int
	// MinSide is the shortest side allowed, in pixels, default 160: below it no deposit texture is left to judge.
	MinSide int
	// MaxMemory is what the file and its decoded picture may take together, in bytes, default 400 MiB.
	MaxMemory int64
	// MaxTime is how much of one processor's time decoding may take, default 10 s.
	MaxTime time.Duration
	// KeptPixels is the size down to which larger pictures are averaged, in pixels, default 16 000 000.
	KeptPixels int
}

func (l Limits) filled() Limits {
	return Limits{
		MaxBytes:   orDefault(l.MaxBytes, limit.PhotoBytes),
		MaxPixels:  orDefault(l.MaxPixels, limit.PhotoPixels),
		MinSide:    orDefault(l.MinSide, limit.PhotoShortSide),
		MaxMemory:  orDefault(l.MaxMemory, limit.PhotoMemory),
		MaxTime:    orDefault(l.MaxTime, limit.PhotoTime),
		KeptPixels: orDefault(l.KeptPixels, limit.KeptPixels),
	}
}

func orDefault[T int | int64 | time.Duration](value, standard T) T {
	if value <= 0 {
		return standard
	}
	return value
}

func (l Limits) checkBytes(n int64) error {
	if n > l.MaxBytes {
		return refuse(ErrTooLarge, nil, "the file has more than %d bytes", l.MaxBytes)
	}
	return nil
}

func (l Limits) checkSize(size image.Point) error {
	switch {
	case size.X <= 0 || size.Y <= 0:
		return refuse(ErrTruncated, nil, "the header says %d x %d pixels", size.X, size.Y)
	case max(size.X, size.Y) > limit.PhotoSide: // first, because no option raises it
		return refuse(
			ErrTooLarge,
			nil,
			"the image has %d x %d pixels, the limit is %d a side",
			size.X,
			size.Y,
			limit.PhotoSide,
		)
	case size.X > l.MaxPixels/size.Y: // a product could overflow
		return refuse(
			ErrTooManyPixels,
			nil,
			"the image has %d x %d pixels, the limit is %v million",
			size.X,
			size.Y,
			float64(l.MaxPixels)/1e6,
		)
	case min(size.X, size.Y) < l.MinSide:
		return refuse(ErrTooSmall, nil, "the image has only %d x %d pixels", size.X, size.Y)
	}
	return nil
}

// checkMemory compares what a file of so many bytes and its decoded picture take with the limit.
func (l Limits) checkMemory(f *format, fileBytes int, size image.Point, bytesPerPixel float64) error {
	needed := float64(fileBytes) + bytesPerPixel*float64(size.X)*float64(size.Y)
	if needed > float64(l.MaxMemory) {
		return refuse(
			ErrTooLarge,
			nil,
			"decoding %d x %d pixels of this kind of %s takes %.0f MiB, the limit is %.0f",
			size.X,
			size.Y,
			f.name,
			needed/(1<<20),
			float64(l.MaxMemory)/(1<<20),
		)
	}
	return nil
}
