package cv

import (
	"fmt"
	"image"

	"gocv.io/x/gocv"
)

// Shrink returns a picture for the eye, all of img in no more columns and rows than it has: by the mean of areas
// where both sides become half as long or less, else between the nearest pixels. Values are rounded to 8 bits; where
// figures are to come of it, take raster.Shrink.
func Shrink(img *image.NRGBA, width, height int) (*image.NRGBA, error) {
	size := img.Rect.Size()
	if err := checkSize(size.X, size.Y); err != nil {
		return nil, err
	}
	if width < 1 || height < 1 || width > size.X || height > size.Y {
		return nil, fmt.Errorf("cv: %d x %d pixels do not shrink to %d x %d", size.X, size.Y, width, height)
	}
	if img.Stride != 4*size.X || len(img.Pix) != 4*size.X*size.Y {
		return nil, fmt.Errorf("cv: %d bytes for %v pixels in rows of %d", len(img.Pix), size, img.Stride)
	}
	in, err := gocv.NewMatFromBytes(size.Y, size.X, gocv.MatTypeCV8UC4, img.Pix)
	if err != nil {
		return nil, err
	}
	defer in.Close()
	out := gocv.NewMat()
	defer out.Close()
	if err := shrink(&in, width, height, &out); err != nil {
		return nil, err
	}
	shrunk := image.NewNRGBA(image.Rect(0, 0, width, height))
	pixels, err := out.DataPtrUint8()
	if err != nil {
		return nil, fmt.Errorf("cv: read result: %w", err)
	}
	if len(pixels) != len(shrunk.Pix) {
		return nil, fmt.Errorf("cv: the result has %d bytes, not %d", len(pixels), len(shrunk.Pix))
	}
	copy(shrunk.Pix, pixels)
	return shrunk, nil
}
