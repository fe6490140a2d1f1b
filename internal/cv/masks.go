package cv

import (
	"errors"
	"fmt"
	"image"
	"math"
	"slices"

	"gocv.io/x/gocv"
)

// inside is the value of inside pixels in masks that this package makes.
const inside = 255

// Operation is a morphological operation on a mask.
type Operation int

// The operations: Erode shrinks what is inside, Dilate grows it, Open removes what is thinner than the disc, Close fills
// gaps that are.
const (
	Erode Operation = iota
	Dilate
	Open
	Close
)

var morphType = map[Operation]gocv.MorphType{
	Erode: gocv.MorphErode, Dilate: gocv.MorphDilate, Open: gocv.MorphOpen, Close: gocv.MorphClose,
}

// maxRadius bounds the work of Morph, which grows with the area of the disc.
const maxRadius = 255

// Morph applies an operation with a disc of the given radius, 1 to 255 pixels (radius 1 is a plus of five pixels).
//
// Pixels beyond the border neither grow nor shrink what is inside. Values are kept as they are: use masks of 0 and 255.
func Morph(mask *image.Gray, o Operation, radius int) (*image.Gray, error) {
	kind, known := morphType[o]
	if !known {
		return nil, fmt.Errorf("cv: unknown operation %d", o)
	}
	if radius < 1 || radius > maxRadius {
		return nil, fmt.Errorf("cv: radius %d is not within 1 to %d", radius, maxRadius)
	}
	disc := gocv.GetStructuringElement(gocv.MorphEllipse, image.Pt(2*radius+1, 2*radius+1))
	defer disc.Close()
	in, err := grayMat(mask)
	if err != nil {
		return nil, err
	}
	defer in.Close()
	size := mask.Rect.Size()
	pix, err := makeBytes(size.X*size.Y, func(out *gocv.Mat) error { return morph(&in, kind, &disc, out) })
	if err != nil {
		return nil, err
	}
	return &image.Gray{Pix: pix, Stride: size.X, Rect: image.Rectangle{Max: size}}, nil
}

// Distance returns for each pixel the distance in pixels, centre to centre, to the nearest outside pixel: 0 outside,
// +Inf everywhere when nothing is outside. Exact Euclidean distance.
func Distance(mask *image.Gray) (Plane, error) {
	in, err := grayMat(mask)
	if err != nil {
		return Plane{}, err
	}
	defer in.Close()
	width, height := mask.Rect.Dx(), mask.Rect.Dy()
	if gocv.CountNonZero(in) == width*height {
		return Plane{width, height, slices.Repeat([]float32{float32(math.Inf(1))}, width*height)}, nil
	}
	return makePlane(width, height, func(out *gocv.Mat) error { return distance(&in, out) })
}

func checkGray(m *image.Gray) error {
	if m == nil {
		return errors.New("cv: no mask")
	}
	size := m.Rect.Size()
	if err := checkSize(size.X, size.Y); err != nil {
		return err
	}
	if m.Stride < size.X || len(m.Pix) < (size.Y-1)*m.Stride+size.X {
		return fmt.Errorf("cv: %d bytes with stride %d for %d x %d pixels", len(m.Pix), m.Stride, size.X, size.Y)
	}
	return nil
}

// grayMat shows a mask to OpenCV; the caller closes it. Rows of a sub-image are copied together first.
func grayMat(m *image.Gray) (gocv.Mat, error) {
	if err := checkGray(m); err != nil {
		return gocv.Mat{}, err
	}
	size, tight := m.Rect.Size(), m.Pix
	if m.Stride != size.X {
		tight = make([]uint8, 0, size.X*size.Y)
		for y := range size.Y {
			tight = append(tight, m.Pix[y*m.Stride:y*m.Stride+size.X]...)
		}
	}
	return gocv.NewMatFromBytes(size.Y, size.X, gocv.MatTypeCV8U, tight[:size.X*size.Y])
}
