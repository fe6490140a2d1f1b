package cv

import (
	"fmt"
	"math"

	"gocv.io/x/gocv"
)

// maxSide is the longest side that OpenCV can sample from or to: it keeps coordinates in 16 bits.
const maxSide = math.MaxInt16

// Affine says where a pixel of one picture lies in another: x' = A[0] x + A[1] y + A[2], y' = A[3] x + A[4] y + A[5].
type Affine [6]float64

// Identity leaves every pixel where it is.
var Identity = Affine{1, 0, 0, 0, 1, 0}

// At returns where (x, y) goes.
func (a Affine) At(x, y float64) (float64, float64) {
	return a[0]*x + a[1]*y + a[2], a[3]*x + a[4]*y + a[5]
}

// Warp returns a picture of width x height whose pixel (x, y) is the value of p at from.At(x, y), linearly interpolated at
// steps of 1/32 pixel.
//
// Beyond its border p has the value outside. With NaN for outside the outermost row and column of p are lost as well,
// because a neighbour of weight 0 still makes NaN. Sides may be up to 32767 pixels.
func Warp(p Plane, from Affine, width, height int, outside float32) (Plane, error) {
	for _, v := range from {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return Plane{}, fmt.Errorf("cv: affine map %v is not finite", from)
		}
	}
	if err := checkSides(p.Width, p.Height, width, height); err != nil {
		return Plane{}, err
	}
	in, err := p.mat()
	if err != nil {
		return Plane{}, err
	}
	defer in.Close()
	return makePlane(width, height, func(out *gocv.Mat) error { return warp(&in, from, width, height, outside, out) })
}

// Remap returns a picture of the size of x and y whose pixel i is the value of p at (x.Pix[i], y.Pix[i]), with the same
// rules as Warp. Coordinates that are NaN or infinite are outside.
func Remap(p, x, y Plane, outside float32) (Plane, error) {
	if x.Width != y.Width || x.Height != y.Height {
		return Plane{}, fmt.Errorf("cv: x map is %d x %d, y map %d x %d", x.Width, x.Height, y.Width, y.Height)
	}
	if err := checkSides(p.Width, p.Height, x.Width, x.Height); err != nil {
		return Plane{}, err
	}
	var mats [3]gocv.Mat
	for i, plane := range []Plane{p, finite(x), finite(y)} {
		m, err := plane.mat()
		if err != nil {
			return Plane{}, err
		}
		defer m.Close()
		mats[i] = m
	}
	return makePlane(x.Width, x.Height, func(out *gocv.Mat) error {
		return remap(&mats[0], &mats[1], &mats[2], outside, out)
	})
}

// finite returns the coordinates with those that OpenCV cannot round to 16 bits replaced by a place far outside.
func finite(p Plane) Plane {
	const far = -maxSide + 1
	safe := Plane{p.Width, p.Height, make([]float32, len(p.Pix))}
	for i, v := range p.Pix {
		safe.Pix[i] = far
		if math.Abs(float64(v)) < maxSide { // false for NaN
			safe.Pix[i] = v
		}
	}
	return safe
}

func checkSides(sides ...int) error {
	for _, side := range sides {
		if side < 1 || side > maxSide {
			return fmt.Errorf("cv: side of %d pixels is not within 1 to %d", side, maxSide)
		}
	}
	return nil
}
