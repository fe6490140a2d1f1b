package cv

import (
	"fmt"
	"slices"
	"unsafe"

	"gocv.io/x/gocv"
)

// maxPixels keeps the size of a matrix, in bytes, within the 32-bit number by which gocv tells it.
const maxPixels = 1 << 28

// Plane is a picture of float values, row by row. Pix has Width*Height values; NaN is carried like any other value, so
// it spreads to every pixel whose result depends on it.
type Plane struct {
	Width, Height int
	Pix           []float32
}

// mat shows the plane to OpenCV without copying; the caller closes it.
func (p Plane) mat() (gocv.Mat, error) { return floatMat(p.Pix, p.Height, p.Width) }

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

// floats copies the values of a float matrix, whose memory dies with it and which must have the given number of them.
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

// makePlane copies the float matrix that work makes, which must have the given size.
func makePlane(width, height int, work func(result *gocv.Mat) error) (Plane, error) {
	out := gocv.NewMat()
	defer out.Close()
	if err := work(&out); err != nil {
		return Plane{}, err
	}
	pix, err := floats(&out, width*height)
	return Plane{width, height, pix}, err
}
