package cv

import (
	"fmt"

	"gocv.io/x/gocv"
)

// maxSigma bounds the work of GaussianBlur, which grows with sigma.
const maxSigma = 500

// GaussianBlur smooths with a Gaussian of the given standard deviation, more than 0 to 500 pixels, cut off at 4 sigma;
// the picture is mirrored at its border.
func GaussianBlur(p Plane, sigma float64) (Plane, error) {
	if !(sigma > 0 && sigma <= maxSigma) {
		return Plane{}, fmt.Errorf("cv: sigma %g is not within 0 to %d", sigma, maxSigma)
	}
	in, err := p.mat()
	if err != nil {
		return Plane{}, err
	}
	defer in.Close()
	return makePlane(p.Width, p.Height, func(out *gocv.Mat) error { return gaussian(&in, sigma, out) })
}
