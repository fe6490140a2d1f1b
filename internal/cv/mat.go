package cv

import (
	"fmt"
	"image"
	"slices"
	"unsafe"

	"gocv.io/x/gocv"
)

// maxPixels keeps the size of a matrix, in bytes, within the 32-bit number by which gocv tells it.
const maxPixels = 1 << 28

// Plane is a picture of float values, row by row. Pix has Width*Height values; NaN is carried like any other value, so it
// spreads to every pixel whose result depends on it.
type Plane struct {
	Width, Height int
	Pix           []float32
}

func checkSize(width, height int) error {
	if width < 1 || height < 1 || width > maxPixels/height {
		return fmt.Errorf("cv: size %d x %d out of range", width, height)
	}
	return nil
}

// floatMat shows values to OpenCV as a matrix without copying them; the caller closes it.
func floatMat(values []float32, rows, cols int) (gocv.Mat, error) {
	if err := checkSize(cols, rows); err != nil {
		return gocv.Mat{}, err
	}
	if len(values) != rows*cols {
		return gocv.Mat{}, fmt.Errorf("cv: %d values for %d x %d pixels", len(values), cols, rows)
	}
	raw := unsafe.Slice((*byte)(unsafe.Pointer(&values[0])), 4*len(values))
	return gocv.NewMatFromBytes(rows, cols, gocv.MatTypeCV32F, raw)
}

// byteMat shows tightly packed pixels to OpenCV; the caller closes it. Rows of a sub-image are copied together first.
func byteMat(pix []uint8, stride int, size image.Point, channels int) (gocv.Mat, error) {
	if err := checkSize(size.X, size.Y); err != nil {
		return gocv.Mat{}, err
	}
	row := size.X * channels
	if stride < row || len(pix) < (size.Y-1)*stride+row {
		return gocv.Mat{}, fmt.Errorf("cv: %d bytes with stride %d for %d x %d pixels", len(pix), stride, size.X, size.Y)
	}
	tight := pix
	if stride != row {
		tight = make([]uint8, 0, size.Y*row)
		for y := range size.Y {
			tight = append(tight, pix[y*stride:y*stride+row]...)
		}
	}
	kind := gocv.MatTypeCV8U
	if channels == 4 {
		kind = gocv.MatTypeCV8UC4
	}
	return gocv.NewMatFromBytes(size.Y, size.X, kind, tight[:size.Y*row])
}

// floats copies the values of a float matrix that must have the given number of them.
func floats(m *gocv.Mat, want int) ([]float32, error) {
	values, err := m.DataPtrFloat32()
	if err != nil {
		return nil, fmt.Errorf("cv: read result: %w", err)
	}
	if len(values) != want {
		return nil, fmt.Errorf("cv: result has %d values, not %d", len(values), want)
	}
	return slices.Clone(values), nil
}

// pointer hands a matrix to the guarded functions.
func pointer(m *gocv.Mat) unsafe.Pointer { return unsafe.Pointer(m.Ptr()) }
