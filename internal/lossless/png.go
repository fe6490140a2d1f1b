package lossless

import (
	"encoding/binary"
	"errors"
	"hash/crc32"
	"image"
	"image/png"
	"io"
	"slices"
	"sync"

	"github.com/klauspost/compress/zlib"
)

// Values of the header of 9.2 and 11.2.1: colour types, and the filter of 9.2.
const (
	depth     = 8
	greyscale = 0
	truecolor = 2
	filterUp  = 2
)

// WritePNG writes a grey picture with 8 bits a pixel, one of opaque RGBA with 24; others are left to image/png. The
// same pixels always give the same bytes. It fails when w does, and for an empty picture, which PNG does not know.
func WritePNG(w io.Writer, picture image.Image) error {
	if picture.Bounds().Empty() {
		return errors.New("lossless: an empty picture")
	}
	switch p := picture.(type) {
	case *image.Gray:
		return write(w, p.Rect.Size(), greyscale, 1, func(y int, row []uint8) {
			copy(row, p.Pix[y*p.Stride:])
		})
	case *image.RGBA:
		if p.Opaque() {
			return write(w, p.Rect.Size(), truecolor, 3, func(y int, row []uint8) {
				withoutAlpha(row, p.Pix[y*p.Stride:][:4*p.Rect.Dx()])
			})
		}
	}
	encoder := png.Encoder{CompressionLevel: png.BestSpeed}
	return encoder.Encode(w, picture)
}

// withoutAlpha copies red, green and blue of a row of pixels.
func withoutAlpha(row, pix []uint8) {
	for len(row) > 3 { // four bytes at once, of which the last is overwritten by the next pixel
		binary.LittleEndian.PutUint32(row, binary.LittleEndian.Uint32(pix))
		row, pix = row[3:], pix[4:]
	}
	copy(row, pix)
}

// compressors keep about a megabyte each, which takes longer to clear than a small picture to write.
var compressors = sync.Pool{New: func() any {
	z, err := zlib.NewWriterLevel(io.Discard, zlib.BestSpeed)
	if err != nil {
		panic("lossless: " + err.Error()) // only for a level that there is not
	}
	return z
}}

// write writes a picture of which fill gives the rows, each of so many bytes a pixel.
func write(w io.Writer, size image.Point, colourType uint8, bytes int, fill func(y int, row []uint8)) error {
	file := &chunks{w: w}
	file.raw([]uint8("\x89PNG\r\n\x1a\n"))
	header := binary.BigEndian.AppendUint32(nil, uint32(size.X))
	header = binary.BigEndian.AppendUint32(header, uint32(size.Y))
	file.chunk("IHDR", append(header, depth, colourType, 0, 0, 0))

	z := compressors.Get().(*zlib.Writer)
	defer compressors.Put(z)
	z.Reset(file)
	line := make([]uint8, 1+bytes*size.X)
	line[0] = filterUp
	row, above := make([]uint8, bytes*size.X), make([]uint8, bytes*size.X) // above the first row there are zeros
	for y := 0; y < size.Y && file.err == nil; y++ {
		fill(y, row)
		subtract(line[1:], row, above)
		z.Write(line) // file keeps the error
		row, above = above, row
	}
	z.Close()
	file.flush()
	file.chunk("IEND", nil)
	return file.err
}

// subtract writes a - b modulo 256, byte by byte, eight at a time: the top bits are kept out of the way of the borrow
// between bytes.
func subtract(to, a, b []uint8) {
	const top = 0x8080808080808080
	for ; len(to) >= 8 && len(a) >= 8 && len(b) >= 8; to, a, b = to[8:], a[8:], b[8:] {
		x, y := binary.LittleEndian.Uint64(a), binary.LittleEndian.Uint64(b)
		binary.LittleEndian.PutUint64(to, ((x|top)-(y&^top))^((x^^y)&top))
	}
	for i := range to {
		to[i] = a[i] - b[i]
	}
}

// chunks writes the parts of the file; after the first error nothing more.
type chunks struct {
	w    io.Writer
	data []uint8 // not yet written as IDAT
	err  error
}

// dataLength is how much goes into one IDAT chunk.
const dataLength = 1 << 16

// Write takes compressed data.
func (c *chunks) Write(data []uint8) (int, error) {
	c.data = append(c.data, data...)
	if len(c.data) >= dataLength {
		c.flush()
	}
	return len(data), c.err
}

func (c *chunks) flush() {
	c.chunk("IDAT", c.data)
	c.data = c.data[:0]
}

func (c *chunks) chunk(name string, data []uint8) {
	head := append(binary.BigEndian.AppendUint32(nil, uint32(len(data))), name...)
	sum := crc32.Update(crc32.ChecksumIEEE(head[4:]), crc32.IEEETable, data)
	c.raw(slices.Concat(head, data, binary.BigEndian.AppendUint32(nil, sum)))
}

func (c *chunks) raw(data []uint8) {
	if c.err == nil {
		_, c.err = c.w.Write(data)
	}
}
