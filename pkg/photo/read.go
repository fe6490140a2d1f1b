package photo

import (
	"bytes"
	"errors"
	"io"
	"io/fs"
	"os"

	"valvegrade/internal/limit"
)

// Read reads the file at path and decodes it. The error, if any, wraps one of the Err variables of this package;
// Photo.Name is path.
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
	if info, err := os.Stat(path); err == nil && info.IsDir() {
		return nil, refuse(ErrUnreachable, nil, "it is a folder, not a file")
	}
	file, err := limit.Open(path)
	if err != nil {
		return nil, unreachable(err)
	}
	defer file.Close()
	info, err := file.Stat()
	if err != nil {
		return nil, unreachable(err)
	}
	if err := l.checkBytes(info.Size()); err != nil {
		return nil, err
	}
	return readCapped(file, info.Size(), l)
}

// readCapped reads all of r, which is said to have so many bytes, and one byte more than allowed at most.
func readCapped(r io.Reader, said int64, l Limits) ([]byte, error) {
	data := bytes.NewBuffer(make([]byte, 0, said+bytes.MinRead))
	if _, err := data.ReadFrom(io.LimitReader(r, l.MaxBytes+1)); err != nil {
		return nil, unreachable(err)
	}
	return data.Bytes(), l.checkBytes(int64(data.Len()))
}

func unreachable(err error) error {
	switch {
	case errors.Is(err, limit.ErrNoFile):
		return refuse(ErrUnreachable, nil, "it is not a regular file")
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
