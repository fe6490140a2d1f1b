package cv

/*
#include <stdlib.h>
#include "images.h"
*/
import "C"

import (
	"image"
	"unsafe"

	"gocv.io/x/gocv"
)

// The image functions of OpenCV behind the guard, one call each. They take whatever they are given: what OpenCV refuses
// comes back as an error. The result is made by the call.

func components(mask, labels *gocv.Mat) ([]Blob, error) {
	var list *C.Blob
	var count C.int
	answer := C.image_components(pointer(mask), pointer(labels), &list, &count)
	if err := failure("connected components", unsafe.Pointer(answer)); err != nil {
		return nil, err
	}
	defer C.free(unsafe.Pointer(list))
	blobs := make([]Blob, count)
	for i, b := range unsafe.Slice(list, int(count)) {
		left, top := int(b.left), int(b.top)
		blobs[i] = Blob{
			Area: int(b.area), X: float64(b.x), Y: float64(b.y),
			Box: image.Rect(left, top, left+int(b.width), top+int(b.height)),
		}
	}
	return blobs, nil
}

func morph(mask *gocv.Mat, kind gocv.MorphType, disc, result *gocv.Mat) error {
	return failure("morph", unsafe.Pointer(C.image_morph(pointer(mask), C.int(kind), pointer(disc), pointer(result))))
}

func gaussian(plane *gocv.Mat, sigma float64, result *gocv.Mat) error {
	return failure("blur", unsafe.Pointer(C.image_gaussian(pointer(plane), C.double(sigma), pointer(result))))
}

func distance(mask, result *gocv.Mat) error {
	return failure("distance", unsafe.Pointer(C.image_distance(pointer(mask), pointer(result))))
}

func remap(plane, x, y *gocv.Mat, outside float32, result *gocv.Mat) error {
	answer := C.image_remap(pointer(plane), pointer(x), pointer(y), C.double(outside), pointer(result))
	return failure("remap", unsafe.Pointer(answer))
}

func warp(plane *gocv.Mat, from Affine, width, height int, outside float32, result *gocv.Mat) error {
	answer := C.image_warp(pointer(plane), (*C.double)(&from[0]), C.int(width), C.int(height), C.double(outside),
		pointer(result))
	return failure("warp", unsafe.Pointer(answer))
}

// align refines the map and returns the correlation, NaN when the search does not converge. An empty mask means all pixels.
func align(still, moved, mask *gocv.Mat, motion Motion, steps int, found *Affine) (float64, error) {
	var correlation C.double
	answer := C.image_align(pointer(still), pointer(moved), pointer(mask), C.int(motion), C.int(steps),
		(*C.double)(&found[0]), &correlation)
	return float64(correlation), failure("align", unsafe.Pointer(answer))
}

// pointer hands a matrix to the guarded functions; a zero Mat gives nil, which they refuse.
func pointer(m *gocv.Mat) unsafe.Pointer { return unsafe.Pointer(m.Ptr()) }
