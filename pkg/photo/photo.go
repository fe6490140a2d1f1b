package photo

import (
	"image"
	"time"
)

// Photo is one upright image and what its file says about it.
type Photo struct {
	// Name is the file name as the user gave it.
	Name string
	// SHA256 is the hash of the file's bytes, in lower-case hexadecimal.
	SHA256 string
	// Format is "jpeg", "png", "tiff", "bmp", "webp", "gif" or "heic".
	Format string
	// Pixels is opaque 8-bit sRGB, upright (EXIF orientation applied), origin (0,0), stride 4*width.
	Pixels *image.NRGBA
	// Width and Height are those of Pixels, in pixels.
	Width, Height int
	// Shrunk tells how many pixels of the file a pixel is the mean of, along either side: 1 unless the picture is
	// larger than Limits.KeptPixels. Whole is the size of the upright picture in the file; up to Shrunk-1 columns and
	// rows at its edges are left out.
	Shrunk int
	Whole  image.Point
	// Taken is the capture time from EXIF without a zone (EXIF has none; read it as local time), nil when the file has
	// none.
	Taken *time.Time
	// Profile is true when the file carries a colour profile, which is ignored: pixels are read as sRGB.
	Profile bool
}
