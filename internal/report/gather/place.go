package gather

import (
	"crypto/sha256"
	"encoding/hex"
	"io"
	"os"
	"path/filepath"
	"syscall"

	"valvegrade/internal/limit"
)

// place is where a photo of a saved result may lie: a name inside a folder. A saved result may come from anybody, so it
// leads to no file outside the folder in which it lies or the one in which the program runs.
type place struct{ dir, name string }

// places are the places to look for a photo, in order: where it was when it was scored, then in the saved result's
// folder dir, under its name in the inspection and with the folders before that left out.
func places(dir, name, asScored string) []place {
	var found []place
	for _, folder := range []string{".", dir} {
		if inside, ok := within(folder, filepath.FromSlash(asScored)); ok {
			found = append(found, place{folder, inside})
		}
	}
	for _, inside := range []string{filepath.FromSlash(name), filepath.Base(filepath.FromSlash(name))} {
		if filepath.IsLocal(inside) {
			found = append(found, place{dir, inside})
		}
	}
	return found
}

// within returns the name in a folder of a path from where the program runs, false when it lies outside.
func within(folder, path string) (string, bool) {
	whole, err := filepath.Abs(folder)
	if err != nil {
		return "", false
	}
	if path, err = filepath.Abs(path); err != nil {
		return "", false
	}
	name, err := filepath.Rel(whole, path)
	return name, err == nil && filepath.IsLocal(name)
}

func (p place) path() string { return filepath.Join(p.dir, p.name) }

// hash returns the SHA-256 of a regular file of at most so many bytes. Links that lead out of the folder are not
// followed.
func (p place) hash(most int64) (string, error) {
	root, err := os.OpenRoot(p.dir)
	if err != nil {
		return "", err
	}
	defer root.Close()
	file, err := root.OpenFile(p.name, os.O_RDONLY|syscall.O_NONBLOCK, 0)
	if err != nil {
		return "", err
	}
	defer file.Close()
	info, err := file.Stat()
	switch {
	case err != nil:
		return "", err
	case !info.Mode().IsRegular():
		return "", limit.ErrNoFile
	case info.Size() > most:
		return "", &limit.TooLarge{Most: most}
	}
	sum := sha256.New()
	if _, err := io.Copy(sum, io.LimitReader(file, most)); err != nil {
		return "", err
	}
	return hex.EncodeToString(sum.Sum(nil)), nil
}
