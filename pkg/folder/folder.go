// Package folder knows which files of a folder are photos of an inspection: not those that the program drew, and those
// in folders named for a cylinder, too.
package folder

import (
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"

	"valvegrade/pkg/inspection"
	"valvegrade/pkg/score"
)

// extensions are those of the files that a folder's photos are; whatever a file is in truth, reading it will tell.
var extensions = []string{".jpg", ".jpeg", ".png", ".tif", ".tiff", ".bmp", ".webp", ".gif", ".heic", ".heif"}

// Extensions are the ends of the names of photos, in small letters with their points. The caller owns the slice.
func Extensions() []string { return slices.Clone(extensions) }

// ResidueSuffix ends the names of residue maps.
const ResidueSuffix = ".residue.png"

// OnlyResidue is the name of the map of a single comparison.
const OnlyResidue = "residue.png"

// IsPhoto reports whether a file in a folder is taken for a photo by its name: those that the program draws itself are
// none, and neither are hidden ones.
func IsPhoto(name string) bool {
	name = strings.ToLower(path.Base(name))
	return !strings.HasPrefix(name, ".") && slices.Contains(extensions, path.Ext(name)) && !IsDrawn(name)
}

// IsDrawn reports whether a file is a picture that this program drew, by its name.
func IsDrawn(name string) bool {
	name = strings.ToLower(name)
	suffixes := []string{score.RegionSuffix, score.DepositSuffix, score.OverlaySuffix, ResidueSuffix}
	for _, stage := range score.StageNames() {
		suffixes = append(suffixes, score.StageSuffix(stage))
	}
	return name == OnlyResidue ||
		slices.ContainsFunc(suffixes, func(s string) bool { return strings.HasSuffix(name, s) })
}

// Photos lists the photos of a folder and of the folders right in it that are no inspections, such as cyl1/, relative
// to it with forward slashes, and behind them those of the listed files that lie elsewhere in it. Links that lead out of
// the folder are left out.
func Photos(dir string, listed ...string) ([]string, error) {
	root, err := os.OpenRoot(dir)
	if err != nil {
		return nil, err
	}
	defer root.Close()
	var files []string
	entries, err := os.ReadDir(dir)
	if err != nil {
		return nil, err
	}
	for _, entry := range entries {
		name := entry.Name()
		switch {
		case !entry.IsDir() && IsPhoto(name) && regular(root, name):
			files = append(files, name)
		case IsPart(dir, entry):
			inside, err := os.ReadDir(filepath.Join(dir, name))
			if err != nil {
				continue // the others can be used all the same
			}
			for _, e := range inside {
				if file := path.Join(name, e.Name()); !e.IsDir() && IsPhoto(e.Name()) && regular(root, file) {
					files = append(files, file)
				}
			}
		}
	}
	for _, file := range listed {
		if !slices.Contains(files, file) && regular(root, file) {
			files = append(files, file)
		}
	}
	return files, nil
}

// Deeper lists the photos in the folders of a folder that Photos does not take for its inspection, relative to it with
// forward slashes: those of folders that are named for no cylinder, or lie deeper. Hidden folders and inspections of their
// own are passed over, and so is what cannot be listed.
func Deeper(dir string) []string {
	taken, err := Photos(dir)
	if err != nil {
		return nil
	}
	var deeper []string
	_ = filepath.WalkDir(dir, func(path string, entry os.DirEntry, err error) error {
		switch name, relErr := filepath.Rel(dir, path); {
		case err != nil || relErr != nil:
			return nil
		case entry.IsDir() && path != dir && (strings.HasPrefix(entry.Name(), ".") || hasForm(path)):
			return filepath.SkipDir
		case !entry.Type().IsRegular() || !IsPhoto(name):
		case !slices.Contains(taken, filepath.ToSlash(name)):
			deeper = append(deeper, filepath.ToSlash(name))
		}
		return nil
	})
	return deeper
}

// IsPart reports whether an entry of an inspection's folder is a folder whose photos belong to it: one that is named
// for a cylinder or a valve and is no inspection of its own.
func IsPart(dir string, entry os.DirEntry) bool {
	cylinder, _ := inspection.NamedFolder(entry.Name())
	if !entry.IsDir() || cylinder == 0 {
		return false
	}
	return !hasForm(filepath.Join(dir, entry.Name()))
}

func hasForm(dir string) bool {
	_, err := os.Stat(filepath.Join(dir, inspection.File))
	return err == nil
}

func regular(root *os.Root, name string) bool {
	info, err := root.Stat(name)
	return err == nil && info.Mode().IsRegular()
}
