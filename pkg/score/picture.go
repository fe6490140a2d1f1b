package score

import (
	"errors"
	"fmt"
	"image"
	"image/png"
	"os"
	"path/filepath"

	"valvegrade/internal/lossless"
)

// Suffixes of the pictures named by a result's label.
const (
	RegionSuffix  = ".region.png"
	DepositSuffix = ".deposit.png"
	OverlaySuffix = ".overlay.png"
)

// WriteMasks writes LABEL.region.png (values of RegionMask) and LABEL.deposit.png (values of DepositMask) of a photo's
// valves into dir, both 8-bit grey and of the photo's size. A photo of which no valve was scored has no masks and
// writes nothing.
func WriteMasks(dir string, valves []*Result) error {
	if len(graded(valves)) == 0 {
		return nil
	}
	first := valves[0]
	if err := WritePNG(filepath.Join(dir, first.Label+RegionSuffix), first.whole(RegionMask(valves))); err != nil {
		return err
	}
	return WritePNG(filepath.Join(dir, first.Label+DepositSuffix), first.whole(DepositMask(valves)))
}

// whole returns a mask in the size of the upright picture in the file.
func (r *Result) whole(mask *image.Gray) *image.Gray {
	shrunk := r.shrunk()
	if shrunk == 1 {
		return mask
	}
	large := image.NewGray(image.Rect(0, 0, r.Width, r.Height))
	last := mask.Rect.Max.Sub(image.Pt(1, 1))
	for y := range r.Height {
		from, to := mask.Pix[min(y/shrunk, last.Y)*mask.Stride:], large.Pix[y*large.Stride:][:r.Width]
		for x := range to {
			to[x] = from[min(x/shrunk, last.X)]
		}
	}
	return large
}

// ReadMask reads a mask as WriteMasks writes it. It returns an error when the file cannot be read, is no PNG or not
// 8-bit grey.
func ReadMask(path string) (*image.Gray, error) {
	file, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer file.Close()
	picture, err := png.Decode(file)
	if err != nil {
		return nil, fmt.Errorf("score: %s: %w", path, err)
	}
	mask, ok := picture.(*image.Gray)
	if !ok {
		return nil, fmt.Errorf("score: %s is no grey picture", path)
	}
	return mask, nil
}

// WritePNG writes the picture at once or not at all: never half a file, and the same pixels always give the same bytes.
// It does not wait for the disk, which would take longer than measuring: a picture can be drawn again.
func WritePNG(path string, picture image.Image) error {
	file, err := os.CreateTemp(filepath.Dir(path), ".valvegrade-*")
	if err != nil {
		return err
	}
	err = errors.Join(lossless.WritePNG(file, picture), file.Chmod(0o644), file.Close())
	if err == nil {
		err = os.Rename(file.Name(), path)
	}
	if err != nil {
		return errors.Join(err, os.Remove(file.Name()))
	}
	return nil
}
