package photo

import (
	"bytes"
	"image/gif"
	"image/jpeg"
	"image/png"

	"valvegrade/internal/jpegframe"
	"valvegrade/internal/limit"

	"github.com/bep/imagemeta"
	"golang.org/x/image/bmp"
	"golang.org/x/image/tiff"
	"golang.org/x/image/webp"
)

// format is one way to store a photo: how to know it, and what reads it. Formats are known by their first bytes alone,
// for a name may say anything.
type format struct {
	name string
	is   func(data []byte) bool
	// check refuses a file by its bytes alone, nil when nothing needs to be said.
	check func(data []byte) error
	read  reading
	// meta tells the metadata library where EXIF lies; ImageFormatAuto where the format has none, or where the decoder
	// already turns the picture upright by itself.
	meta imagemeta.ImageFormat
	// profile reports whether a colour profile is embedded, nil when the format is not searched for one.
	profile func(data []byte) bool
	// moves reports whether the file holds more than one frame, nil when the format cannot.
	moves func(data []byte) bool
}

var formats = []format{
	{
		name:    "jpeg",
		is:      begins("\xff\xd8\xff"),
		check:   checkScans,
		read:    byLibrary(jpeg.DecodeConfig, jpeg.Decode, jpegCost),
		meta:    imagemeta.JPEG,
		profile: jpegProfile,
	},
	{name: "png", is: begins("\x89PNG\r\n\x1a\n"), read: byLibrary(png.DecodeConfig, png.Decode, withPasses),
		meta: imagemeta.PNG, profile: pngChunk("iCCP"), moves: pngChunk("acTL")},
	{name: "tiff", is: isTIFF, read: byLibrary(tiff.DecodeConfig, tiff.Decode, withStrips), meta: imagemeta.TIFF},
	{name: "bmp", is: begins("BM"), read: byLibrary(bmp.DecodeConfig, bmp.Decode, onePicture)},
	{name: "webp", is: isWebP, read: byLibrary(webp.DecodeConfig, webp.Decode, webpCost),
		meta: imagemeta.WebP, profile: webpFlag(0x20), moves: webpFlag(0x02)},
	{name: "gif", is: begins("GIF8"), read: byLibrary(gif.DecodeConfig, gif.Decode, onePicture), moves: gifMoves},
	{name: "heic", is: isHEIC, read: asHEIC, meta: imagemeta.HEIF, profile: heicProfile},
}

// strangers are image files that are recognised only to say so.
var strangers = []struct {
	name string
	is   func(data []byte) bool
}{
	{"a camera raw file", func(d []byte) bool { return isTIFFHeader(d) && len(d) > 10 && string(d[8:10]) == "CR" }},
	{"an AVIF image", func(d []byte) bool { return hasBrand(d, "avif", "avis") }},
	{
		"a video or a HEIF image without HEVC",
		func(d []byte) bool { return brand(d) != "" || begins("\x1aE\xdf\xa3")(d) || isRIFF(d, "AVI ") },
	},
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

// checkScans refuses a JPEG whose scans are so many that they can only be meant to keep the decoder busy.
func checkScans(data []byte) error {
	if n := jpegframe.Read(data).Scans; n > limit.PhotoScans {
		return refuse(ErrTooSlow, nil, "the JPEG has %d scans, the limit is %d", n, limit.PhotoScans)
	}
	return nil
}
