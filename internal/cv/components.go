package cv

import (
	"image"
	"unsafe"

	"gocv.io/x/gocv"
)

// Blob is one connected area of a mask.
type Blob struct {
	// Area in pixels.
	Area int
	// Box is the smallest rectangle that holds the area.
	Box image.Rectangle
	// X and Y are the centre of mass, in pixels.
	X, Y float64
}

// Components are the connected areas of a mask.
type Components struct {
	Width, Height int
	// Label of each pixel, row by row: 0 outside the mask, 1 to len(Blobs) for the areas.
	Label []int32
	// Blobs holds the area labelled i at i-1, in the order in which a scan by rows meets them.
	Blobs []Blob
}

// Largest returns the label of the largest area (the first of equal ones), 0 when there is none.
func (c *Components) Largest() int32 {
	best := int32(0)
	for i, b := range c.Blobs {
		if best == 0 || b.Area > c.Blobs[best-1].Area {
			best = int32(i + 1)
		}
	}
	return best
}

// Mask returns the pixels of the areas that keep says yes to, 255 inside and 0 outside.
func (c *Components) Mask(keep func(label int32, b Blob) bool) *image.Gray {
	kept := make([]uint8, len(c.Blobs)+1)
	for i, b := range c.Blobs {
		if keep(int32(i+1), b) {
			kept[i+1] = inside
		}
	}
	mask := image.NewGray(image.Rect(0, 0, c.Width, c.Height))
	for i, label := range c.Label {
		mask.Pix[i] = kept[label]
	}
	return mask
}

// ConnectedComponents finds the connected areas of a mask; pixels that touch at a corner are connected.
func ConnectedComponents(mask *image.Gray) (*Components, error) {
	in, err := grayMat(mask)
	if err != nil {
		return nil, err
	}
	defer in.Close()
	found := &Components{Width: mask.Rect.Dx(), Height: mask.Rect.Dy()}
	raw, err := makeBytes(4*found.Width*found.Height, func(labels *gocv.Mat) error {
		found.Blobs, err = components(&in, labels)
		return err
	})
	if err != nil {
		return nil, err
	}
	found.Label = unsafe.Slice((*int32)(unsafe.Pointer(&raw[0])), len(raw)/4)
	found.Blobs = found.Blobs[1:] // the first is what is outside the mask
	return found, nil
}

// FillHoles returns the mask with the outside areas that do not reach the border set to 255.
//
// Outside pixels that touch only at a corner are connected as well, so a thin diagonal line does not close an area.
func FillHoles(mask *image.Gray) (*image.Gray, error) {
	if err := checkGray(mask); err != nil {
		return nil, err
	}
	width, height := mask.Rect.Dx(), mask.Rect.Dy()
	outside := image.NewGray(image.Rect(0, 0, width, height))
	for y := range height {
		for x, v := range mask.Pix[y*mask.Stride : y*mask.Stride+width] {
			if v == 0 {
				outside.Pix[y*width+x] = inside
			}
		}
	}
	areas, err := ConnectedComponents(outside)
	if err != nil {
		return nil, err
	}
	interior := outside.Rect.Inset(1)
	open := areas.Mask(func(_ int32, b Blob) bool { return !b.Box.In(interior) })
	for i, v := range open.Pix {
		open.Pix[i] = inside - v
	}
	return open, nil
}
