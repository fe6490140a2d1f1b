package photo

import (
	"errors"
	"io"
	"io/fs"
	"os"
)

// Read reads the file at path and decodes it. The error, if any, wraps one of the Err variables of this package; Photo.Name
// is path.
//
// Reading stops one byte past Limits.MaxBytes, whatever size the file system claims.
func Read(path string, l Limits) (*Photo, error) {
	data, err := readFile(path, l.filled())
	if err != nil {
		return nil, named(path, err)
	}
	return Decode(path, data, l)
}

func readFile(path string, l Limits) ([]byte, error) {
	info, err := os.Stat(path)
	if err != nil {
		return nil, unreachable(err)
	}
	if info.IsDir() {
		return nil, refuse(ErrUnreachable, nil, "it is a folder, not a file")
	}
	if !info.Mode().IsRegular() { // opening a pipe would wait for ever
		return nil, refuse(ErrUnreachable, nil, "it is not a regular file")
	}
	if err := l.checkBytes(info.Size()); err != nil {
		return nil, err
	}
	file, err := os.Open(path)
	if err != nil {
		return nil, unreachable(err)
	}
	defer file.Close()
	return readCapped(file, l)
}

// readCapped reads all of r, and one byte more than allowed at most.
func readCapped(r io.Reader, l Limits) ([]byte, error) {
	data, err := io.ReadAll(io.LimitReader(r, l.MaxBytes+1))
	if err != nil {
		return nil, unreachable(err)
	}
	return data, l.checkBytes(int64(len(data)))
}

func unreachable(err error) error {
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return refuse(ErrUnreachable, err, "there is no such file")
	case errors.Is(err, fs.ErrPermission):
		return refuse(ErrUnreachable, err, "permission to read it is missing")
	}
	return refuse(ErrUnreachable, err, "reading it failed")
}

// named puts the file's name into a refusal.
func named(name string, err error) error {
	var why *refusal
	if errors.As(err, &why) {
		why.name = name
	}
	return err
}
