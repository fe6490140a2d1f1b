package photo

import (
	"bytes"
	"encoding/binary"
	"hash/crc32"
	"image"
	"image/color"
	"image/gif"
	"image/jpeg"
	"image/png"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
)

// The files in testdata, and quadrants, show four fields: red, green, blue and near-white, in reading order.
const fieldW, fieldH = 84, 80

var fields = [4]color.NRGBA{{200, 40, 40, 255}, {40, 180, 40, 255}, {40, 40, 200, 255}, {220, 220, 220, 255}}

func quadrants() *image.NRGBA {
	img := image.NewNRGBA(image.Rect(0, 0, 2*fieldW, 2*fieldH))
	for y := range 2 * fieldH {
		for x := range 2 * fieldW {
			img.SetNRGBA(x, y, fields[x/fieldW+2*(y/fieldH)])
		}
	}
	return img
}

func fixture(t testing.TB, name string) []byte {
	data, err := os.ReadFile(filepath.Join("testdata", name))
	require.NoError(t, err)
	return data
}

func asJPEG(t testing.TB, img image.Image) []byte {
	var out bytes.Buffer
	require.NoError(t, jpeg.Encode(&out, img, &jpeg.Options{Quality: 95}))
	return out.Bytes()
}

func asPNG(t testing.TB, img image.Image) []byte {
	var out bytes.Buffer
	require.NoError(t, png.Encode(&out, img))
	return out.Bytes()
}

func asGIF(t testing.TB, frames int) []byte {
	paletted := image.NewPaletted(image.Rect(0, 0, 2*fieldW, 2*fieldH), color.Palette{color.Black, color.White})
	g := &gif.GIF{}
	for range frames {
		g.Image, g.Delay = append(g.Image, paletted), append(g.Delay, 10)
	}
	var out bytes.Buffer
	require.NoError(t, gif.EncodeAll(&out, g))
	return out.Bytes()
}

// animatedPNG is a PNG with a chunk that announces an animation of two frames behind its header.
func animatedPNG(t testing.TB) []byte {
	const afterHeader = 8 + 25
	data := asPNG(t, image.NewNRGBA(image.Rect(0, 0, 2*fieldW, 2*fieldH)))
	chunk := []byte("acTL\x00\x00\x00\x02\x00\x00\x00\x00")
	out := append([]byte{}, data[:afterHeader]...)
	out = binary.BigEndian.AppendUint32(out, uint32(len(chunk)-4))
	out = append(out, chunk...)
	out = binary.BigEndian.AppendUint32(out, crc32.ChecksumIEEE(chunk))
	return append(out, data[afterHeader:]...)
}

// withSegment puts an application segment right behind the start of a JPEG.
func withSegment(data []byte, marker byte, body []byte) []byte {
	out := append([]byte{}, data[:2]...)
	out = append(out, 0xff, marker)
	out = binary.BigEndian.AppendUint16(out, uint16(len(body)+2))
	return append(append(out, body...), data[2:]...)
}

// withEXIF puts an orientation and a capture time ("" for none) into a JPEG, as CIPA DC-008 lays them out.
func withEXIF(data []byte, orientation uint16, taken string) []byte {
	const short, long, ascii = 3, 4, 2
	tiff := []byte("II*\x00\x08\x00\x00\x00")
	entry := func(tag, kind uint16, count, value uint32) {
		tiff = binary.LittleEndian.AppendUint16(tiff, tag)
		tiff = binary.LittleEndian.AppendUint16(tiff, kind)
		tiff = binary.LittleEndian.AppendUint32(tiff, count)
		tiff = binary.LittleEndian.AppendUint32(tiff, value)
	}
	tiff = append(tiff, 2, 0)
	entry(0x0112, short, 1, uint32(orientation))
	entry(0x8769, long, 1, 38) // the Exif directory follows this one: 8 + 2 + 2*12 + 4
	tiff = append(tiff, 0, 0, 0, 0, 1, 0)
	entry(0x9003, ascii, 20, 56) // its text follows: 38 + 2 + 12 + 4
	tiff = append(tiff, 0, 0, 0, 0)
	tiff = append(append(tiff, taken...), make([]byte, 20-len(taken))...)
	return withSegment(data, 0xe1, append([]byte("Exif\x00\x00"), tiff...))
}

// pngHeader is a PNG of 57 bytes that claims a size and holds nothing.
func pngHeader(w, h uint32) []byte {
	chunk := func(out []byte, kind string, body []byte) []byte {
		out = binary.BigEndian.AppendUint32(out, uint32(len(body)))
		from := len(out)
		out = append(append(out, kind...), body...)
		return binary.BigEndian.AppendUint32(out, crc32.ChecksumIEEE(out[from:]))
	}
	size := binary.BigEndian.AppendUint32(binary.BigEndian.AppendUint32(nil, w), h)
	out := chunk([]byte("\x89PNG\r\n\x1a\n"), "IHDR", append(size, 8, 6, 0, 0, 0))
	return chunk(chunk(out, "IDAT", nil), "IEND", nil)
}
