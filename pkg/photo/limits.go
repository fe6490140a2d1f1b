package photo

import "image"

// Limits bound what a file may cost before any of its pixels is decoded. A zero field means its default.
type Limits struct {
	// MaxBytes is the largest file, default 256 MiB.
	MaxBytes int64
	// MaxPixels is the largest width times height, default 64 000 000.
	MaxPixels int
	// MinSide is the shortest side allowed, in pixels, default 160: below it no deposit texture is left to judge.
	MinSide int
}

const (
	defaultMaxBytes  = 256 << 20
	defaultMaxPixels = 64_000_000
	defaultMinSide   = 160
)

func (l Limits) filled() Limits {
	if l.MaxBytes <= 0 {
		l.MaxBytes = defaultMaxBytes
	}
	if l.MaxPixels <= 0 {
		l.MaxPixels = defaultMaxPixels
	}
	if l.MinSide <= 0 {
		l.MinSide = defaultMinSide
	}
	return l
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
	case size.X > l.MaxPixels/size.Y: // a product could overflow
		return refuse(ErrTooManyPixels, nil, "the image has %d x %d pixels, the limit is %v million", size.X, size.Y, float64(l.MaxPixels)/1e6)
	case min(size.X, size.Y) < l.MinSide:
		return refuse(ErrTooSmall, nil, "the image has only %d x %d pixels", size.X, size.Y)
	}
	return nil
}
