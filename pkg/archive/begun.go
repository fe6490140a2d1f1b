package archive

import (
	"cmp"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
)

// Begun tells what an archive in a file adds to the disk, so that one that was begun for nothing can be taken away again.
// It remembers what is there before the archive is opened; of a shared database it remembers nothing.
type Begun struct {
	// files are those of an archive that was not there, folders those that were not, the innermost first.
	files, folders []string
}

// besides are the files that stand beside that of an archive: what was written last, and the lock of its tables.
var besides = []string{"", "-wal", "-shm", "-journal", ".lock"}

// Before is to be called before Open.
func Before(o Options) Begun {
	file := o.Location.File()
	if file == "" || there(file) {
		return Begun{}
	}
	var b Begun
	for _, end := range besides {
		if !there(file + end) {
			b.files = append(b.files, file+end)
		}
	}
	photos := cmp.Or(o.Photos, photosBeside(file))
	for _, dir := range []string{photos, filepath.Dir(file)} {
		for ; !strings.Contains(dir, "://") && !there(dir); dir = filepath.Dir(dir) {
			b.folders = append(b.folders, dir)
		}
	}
	return b
}

// TakeBack removes what was not there before, once the archive is closed. Folders in which something else was put
// meanwhile stay.
func (b Begun) TakeBack() error {
	var failed error
	for _, path := range b.files {
		if err := os.Remove(path); err != nil && !errors.Is(err, fs.ErrNotExist) {
			failed = errors.Join(failed, err)
		}
	}
	for _, dir := range b.folders {
		removeEmpty(dir)
	}
	return failed
}

// removeEmpty removes a folder and those in it, as far as there is no file in them.
func removeEmpty(dir string) {
	entries, _ := os.ReadDir(dir)
	for _, entry := range entries {
		if entry.IsDir() {
			removeEmpty(filepath.Join(dir, entry.Name()))
		}
	}
	_ = os.Remove(dir) // which refuses a folder that is not empty
}

func there(path string) bool {
	_, err := os.Lstat(path)
	return !errors.Is(err, fs.ErrNotExist)
}
