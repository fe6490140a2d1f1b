package photo

import (
	"bytes"
	"io"
	"time"

	"github.com/bep/imagemeta"

	"valvegrade/internal/limit"
)

// facts are what a file says about its picture beside the pixels.
type facts struct {
	orientation int // EXIF value, 1 when the file has none
	taken       *time.Time
	profile     bool
}

// turned reports whether columns of the stored picture are rows of the upright one.
func (f facts) turned() bool { return f.orientation >= 5 && f.orientation <= 8 }

// exifTime is the layout of EXIF dates (CIPA DC-008, 4.6.5); it has no zone.
const exifTime = "2006:01:02 15:04:05"

// capture reads the facts. Metadata too damaged to read counts as missing: the pixels alone decide whether a photo can
// be judged.
func capture(f *format, data []byte) facts {
	found := facts{orientation: 1, profile: f.profile != nil && f.profile(data)}
	if f.meta == imagemeta.ImageFormatAuto {
		return found
	}
	tags := exifTags(f, data)
	if value, ok := tags["Orientation"].(uint16); ok && f.name != "heic" {
		found.orientation = int(value) // the HEIC decoder turns the picture by the file's own boxes, which have the last word
	}
	found.taken = firstTime(tags["DateTimeOriginal"], tags["CreateDate"])
	_, inTIFF := tags["ICC_Profile"]
	found.profile = found.profile || inTIFF
	return found
}

// headBytes is where the files of cameras have their EXIF.
const headBytes = 256 << 10

// TakenOf returns when a photo was taken, as its file's head tells, without looking at the picture; nil where it does
// not tell or is none.
func TakenOf(path string) *time.Time {
	file, err := limit.Open(path)
	if err != nil {
		return nil
	}
	defer file.Close()
	head, err := io.ReadAll(io.LimitReader(file, headBytes))
	if err != nil {
		return nil
	}
	f, err := recognise(head)
	if err != nil {
		return nil
	}
	return capture(f, head).taken
}

// exifTags reads the tags that matter from EXIF, as many as can be read; the first of two wins.
func exifTags(f *format, data []byte) map[string]any {
	tags := map[string]any{}
	wanted := func(tag imagemeta.TagInfo) bool {
		switch tag.Tag {
		case "ICC_Profile":
			tags[tag.Tag] = true // its bytes, too long for the reader, are of no use here
			return false
		case "Orientation":
			return tag.Namespace == "IFD0" // IFD1 describes the thumbnail
		}
		return tag.Tag == "DateTimeOriginal" || tag.Tag == "CreateDate"
	}
	keep := func(tag imagemeta.TagInfo) error {
		if _, known := tags[tag.Tag]; !known {
			tags[tag.Tag] = tag.Value
		}
		return nil
	}
	imagemeta.Decode(imagemeta.Options{
		R: bytes.NewReader(data), ImageFormat: f.meta, Sources: imagemeta.EXIF, ShouldHandleTag: wanted, HandleTag: keep,
	})
	return tags
}

// firstTime returns the first value that is a date, nil when none is. Cameras whose clock was never set write zeros.
func firstTime(values ...any) *time.Time {
	for _, v := range values {
		text, _ := v.(string)
		if t, err := time.Parse(exifTime, text); err == nil {
			return &t
		}
	}
	return nil
}
