package cv

/*
#cgo pkg-config: opencv4
#include <stdlib.h>
#include "setup.h"
*/
import "C"

import (
	"errors"
	"fmt"
	"strings"
	"unsafe"
)

func init() {
	if err := failure("set up", unsafe.Pointer(C.setup_opencv())); err != nil {
		panic(err) // nothing was asked of OpenCV yet: the installation itself is broken
	}
	if n := threads(); n != 1 { // sums in another order are other sums, and a photo must always give the same result
		panic(fmt.Sprintf("cv: set up: OpenCV works with %d threads in spite of being told one", n))
	}
}

// threads returns the number of threads OpenCV works with.
func threads() int { return int(C.opencv_threads()) }

// failure turns the answer of a guarded call into an error and releases it; nil means that the call went well.
func failure(action string, message unsafe.Pointer) error {
	if message == nil {
		return nil
	}
	text := C.GoString((*C.char)(message))
	C.free(message)
	return fmt.Errorf("cv: %s: %w", action, errors.New(strings.Join(strings.Fields(text), " ")))
}
