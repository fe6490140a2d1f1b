package cv

import (
	"errors"
	"fmt"
	"image"
	"math"

	"gocv.io/x/gocv"
)

// Motion is how freely a picture may move when it is aligned; the values are OpenCV's.
type Motion int

// The motions: shift only, shift and turn, any affine map.
const (
	Shift        Motion = 0
	ShiftAndTurn Motion = 1
	AnyAffine    Motion = 2
)

// ErrNotAligned is returned when two pictures have too little in common to be aligned.
var ErrNotAligned = errors.New("cv: pictures do not align")

// maxSteps bounds the work of Align.
const maxSteps = 1000

// Align finds where each pixel of still lies in moved, so that Warp(moved, found, still.Width, still.Height, ...) lies on
// still. It maximises the enhanced correlation coefficient (Evangelidis, Psarakis 2008), which ignores changes of
// brightness and contrast, starting from start, in at most steps (1 to 1000) steps.
//
// mask has the size of moved and says which of its pixels count; nil means all. The second result is the correlation
// reached, -1 to 1. The values must be finite.
func Align(still, moved Plane, mask *image.Gray, motion Motion, start Affine, steps int) (Affine, float64, error) {
	found, correlation := start, math.NaN()
	err := checkAlign(still, moved, mask, motion, steps)
	if err != nil {
		return start, correlation, err
	}
	a, err := still.mat()
	if err != nil {
		return start, correlation, err
	}
	defer a.Close()
	b, err := moved.mat()
	if err != nil {
		return start, correlation, err
	}
	defer b.Close()
	m := gocv.NewMat()
	if mask != nil {
		m.Close()
		if m, err = grayMat(mask); err != nil {
			return start, correlation, err
		}
	}
	defer m.Close()
	correlation, err = align(&a, &b, &m, motion, steps, &found)
	switch {
	case err != nil:
		return start, math.NaN(), err
	case math.IsNaN(correlation):
		return start, math.NaN(), ErrNotAligned
	}
	return found, correlation, nil
}

func checkAlign(still, moved Plane, mask *image.Gray, motion Motion, steps int) error {
	if motion < Shift || motion > AnyAffine || steps < 1 || steps > maxSteps {
		return fmt.Errorf("cv: align with motion %d in %d steps", motion, steps)
	}
	if mask != nil && mask.Rect.Size() != image.Pt(moved.Width, moved.Height) {
		return fmt.Errorf("cv: mask is %v, picture %d x %d", mask.Rect.Size(), moved.Width, moved.Height)
	}
	return checkSides(still.Width, still.Height, moved.Width, moved.Height)
}
