package limit

import (
	"errors"
	"fmt"
	"io"
	"os"
	"syscall"
)

// ErrNoFile is returned for a folder, a pipe, a device and whatever else is not a regular file.
var ErrNoFile = errors.New("not a regular file")

// TooLarge is the error for a file with more than Most bytes.
type TooLarge struct{ Most int64 }

func (e *TooLarge) Error() string {
	if e.Most >= 1<<20 {
		return fmt.Sprintf("larger than %d MiB", e.Most>>20)
	}
	return fmt.Sprintf("larger than %d KiB", e.Most>>10)
}

// Open opens a regular file to read. It never waits, as opening a pipe would; the error for anything else is ErrNoFile.
func Open(path string) (*os.File, error) {
	info, err := os.Stat(path) // first: opening a device may do something
	if err != nil {
		return nil, err
	}
	if !info.Mode().IsRegular() {
		return nil, ErrNoFile
	}
	file, err := os.OpenFile(path, os.O_RDONLY|syscall.O_NONBLOCK, 0)
	if err != nil {
		return nil, err
	}
	if info, err = file.Stat(); err == nil && !info.Mode().IsRegular() { // exchanged in the meantime
		err = ErrNoFile
	}
	if err != nil {
		file.Close()
		return nil, err
	}
	return file, nil
}

// ReadFile reads a regular file of at most so many bytes.
func ReadFile(path string, most int64) ([]byte, error) {
	file, err := Open(path)
	if err != nil {
		return nil, err
	}
	defer file.Close()
	return Read(file, most)
}

// Read reads everything from r, at most so many bytes. The error for more is a *TooLarge, or that of r.
func Read(r io.Reader, most int64) ([]byte, error) {
	data, err := io.ReadAll(io.LimitReader(r, most+1))
	if err == nil && int64(len(data)) > most {
		return nil, &TooLarge{most}
	}
	return data, err
}
