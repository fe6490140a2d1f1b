package photo

import (
	"bytes"
	"image"
	"image/gif"
	"image/jpeg"
	"image/png"
	"io"

	"github.com/bep/imagemeta"
	"github.com/gen2brain/heic"
	"golang.org/x/image/bmp"
	"golang.org/x/image/tiff"
	"golang.org/x/image/webp"
)

// format is one way to store a photo: how to know it, and what reads it. Formats are known by their first bytes alone, for
// a name may say anything.
type format struct {
	name   string
	is     func(data []byte) bool
	config func(io.Reader) (image.Config, error)
	decode func(io.Reader) (image.Image, error)
	// meta tells the metadata library where EXIF lies; ImageFormatAuto where the format has none, or where the decoder
	// already turns the picture upright by itself.
	meta imagemeta.ImageFormat
	// profile reports whether a colour profile is embedded, nil when the format is not searched for one.
	profile func(data []byte) bool
	// moves reports whether the file holds more than one frame, nil when the format cannot.
	moves func(data []byte) bool
}

var formats = []format{
	{name: "jpeg", is: begins("\xff\xd8\xff"), config: jpeg.DecodeConfig, decode: jpeg.Decode, meta: imagemeta.JPEG,
		profile: jpegProfile},
	{name: "png", is: begins("\x89PNG\r\n\x1a\n"), config: png.DecodeConfig, decode: png.Decode, meta: imagemeta.PNG,
		profile: pngChunk("iCCP"), moves: pngChunk("acTL")},
	{name: "tiff", is: isTIFF, config: tiff.DecodeConfig, decode: tiff.Decode, meta: imagemeta.TIFF},
	{name: "bmp", is: begins("BM"), config: bmp.DecodeConfig, decode: bmp.Decode},
	{name: "webp", is: isWebP, config: webp.DecodeConfig, decode: webp.Decode, meta: imagemeta.WebP,
		profile: webpFlag(0x20), moves: webpFlag(0x02)},
	{name: "gif", is: begins("GIF8"), config: gif.DecodeConfig, decode: gif.Decode, moves: gifMoves},
	{name: "heic", is: isHEIC, config: heic.DecodeConfig, decode: heic.Decode, meta: imagemeta.HEIF, profile: heicProfile},
}

// strangers are image files that are recognised only to say so.
var strangers = []struct {
	name string
	is   func(data []byte) bool
}{
	{"a camera raw file", func(d []byte) bool { return isTIFFHeader(d) && len(d) > 10 && string(d[8:10]) == "CR" }},
	{"an AVIF image", func(d []byte) bool { return hasBrand(d, "avif", "avis") }},
	{"a video or a HEIF image without HEVC", func(d []byte) bool { return brand(d) != "" || begins("\x1aE\xdf\xa3")(d) || isRIFF(d, "AVI ") }},
	{"a layered drawing", begins("8BPS")},
	{"a JPEG 2000 image", begins("\x00\x00\x00\x0cjP  ")},
	{"a JPEG XL image", func(d []byte) bool { return begins("\xff\x0a")(d) || begins("\x00\x00\x00\x0cJXL ")(d) }},
	{"a PDF document", begins("%PDF-")},
}

// recognise finds the format of data by its first bytes.
func recognise(data []byte) (*format, error) {
	if len(data) == 0 {
		return nil, refuse(ErrNotImage, nil, "the file is empty")
	}
	for i := range formats {
		if formats[i].is(data) {
			return &formats[i], nil
		}
	}
	for _, s := range strangers {
		if s.is(data) {
			return nil, refuse(ErrUnsupported, nil, "the file is %s", s.name)
		}
	}
	return nil, refuse(ErrNotImage, nil, "the content is not that of a known image format")
}

func begins(magic string) func([]byte) bool {
	return func(data []byte) bool { return bytes.HasPrefix(data, []byte(magic)) }
}

func isTIFFHeader(data []byte) bool {
	return begins("II*\x00")(data) || begins("MM\x00*")(data)
}

func isTIFF(data []byte) bool { return isTIFFHeader(data) && !strangers[0].is(data) }

func isRIFF(data []byte, kind string) bool {
	return len(data) >= 12 && string(data[:4]) == "RIFF" && string(data[8:12]) == kind
}

func isWebP(data []byte) bool { return isRIFF(data, "WEBP") }

// isHEIC accepts still HEVC images of ISO/IEC 23008-12, not their sequences.
func isHEIC(data []byte) bool {
	return hasBrand(data, "heic", "heix", "heim", "heis") && !hasBrand(data, "avif", "avis")
}
