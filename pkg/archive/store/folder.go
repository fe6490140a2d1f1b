package store

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"syscall"

	"github.com/google/renameio/v2"

	"valvegrade/internal/limit"
)

// Folder is a store in a folder, which may be one of a file server.
type Folder string

// Put implements Store.
func (f Folder) Put(_ context.Context, key string, data []byte) error {
	path := f.path(key)
	if err := os.MkdirAll(filepath.Dir(path), 0o750); err != nil {
		return f.explain(err)
	}
	// Written to a file beside it, which is flushed to the disk and then renamed.
	file, err := renameio.NewPendingFile(
		path,
		renameio.WithTempDir(filepath.Dir(path)),
		renameio.WithPermissions(0o640),
	)
	if err != nil {
		return f.explain(err)
	}
	defer file.Cleanup()
	if _, err := file.Write(data); err != nil {
		return f.explain(err)
	}
	return f.explain(file.CloseAtomicallyReplace())
}

// Get implements Store.
func (f Folder) Get(_ context.Context, key string, most int64) ([]byte, error) {
	data, err := limit.ReadFile(f.path(key), most)
	return data, f.explain(err)
}

// Size implements Store.
func (f Folder) Size(_ context.Context, key string) (int64, error) {
	info, err := os.Stat(f.path(key))
	if err != nil {
		return 0, f.explain(err)
	}
	return info.Size(), nil
}

// Delete implements Store.
func (f Folder) Delete(_ context.Context, key string) error {
	err := os.Remove(f.path(key))
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	return f.explain(err)
}

// Each implements Store.
func (f Folder) Each(ctx context.Context, prefix string, do func(key string, size int64) error) error {
	root := filepath.Join(string(f), filepath.FromSlash(prefix))
	err := filepath.WalkDir(root, func(path string, entry fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case ctx.Err() != nil:
			return ctx.Err()
		case entry.IsDir() || strings.HasPrefix(entry.Name(), "."):
			return nil
		}
		info, err := entry.Info()
		if errors.Is(err, fs.ErrNotExist) { // removed in the meantime
			return nil
		}
		if err != nil {
			return err
		}
		within, err := filepath.Rel(string(f), path)
		if err != nil {
			return err
		}
		return do(filepath.ToSlash(within), info.Size())
	})
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	return err
}

func (f Folder) String() string { return string(f) }

// path is where a blob lies. Keys are made by this program, so that one which leads out of the folder is its mistake.
func (f Folder) path(key string) string {
	if !fs.ValidPath(key) {
		panic(fmt.Sprintf("store: key %q", key))
	}
	return filepath.Join(string(f), filepath.FromSlash(key))
}

// explain says in plain words what a person can do something about.
func (f Folder) explain(err error) error {
	switch {
	case err == nil:
		return nil
	case errors.Is(err, fs.ErrNotExist):
		return ErrMissing
	case errors.Is(err, syscall.ENOSPC), errors.Is(err, syscall.EDQUOT):
		return fmt.Errorf("%w on the disk of %q", ErrFull, string(f))
	}
	return fmt.Errorf("photos in %q: %w", string(f), err)
}
