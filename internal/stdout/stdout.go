// Package stdout is the standard output of the process, of which it knows whether it was closed when the process began.
package stdout

// #include "closed.h"
import "C"

import (
	"errors"
	"io"
	"os"
)

// ErrClosed is the error of writing to a standard output that was closed.
var ErrClosed = errors.New("standard output is closed")

// Writer is the standard output. Writing to it is an error where it was closed; otherwise the result would be lost
// without a word.
func Writer() io.Writer {
	if C.stdout_was_closed != 0 {
		return closed{}
	}
	return os.Stdout
}

type closed struct{}

func (closed) Write([]byte) (int, error) { return 0, ErrClosed }
