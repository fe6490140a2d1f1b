package cv

/*
#include <stdlib.h>
#include "images.h"
*/
import "C"

import (
	"unsafe"

	"gocv.io/x/gocv"
)

// gaussian is OpenCV's blur behind the guard. It takes whatever it is given: what OpenCV refuses comes back as an
// error. The result is made by the call.
func gaussian(plane *gocv.Mat, sigma float64, result *gocv.Mat) error {
	return failure("blur", unsafe.Pointer(C.image_gaussian(pointer(plane), C.double(sigma), pointer(result))))
}

// shrink is OpenCV's change of size behind the guard.
func shrink(picture *gocv.Mat, width, height int, result *gocv.Mat) error {
	return failure(
		"shrink",
		unsafe.Pointer(C.image_shrink(pointer(picture), C.int(width), C.int(height), pointer(result))),
	)
}

// pointer hands a matrix to the guarded functions; a zero Mat gives nil, which they refuse.
func pointer(m *gocv.Mat) unsafe.Pointer { return unsafe.Pointer(m.Ptr()) }
