package main

import (
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"valvegrade/pkg/inspection"
	"valvegrade/pkg/region"
	"valvegrade/pkg/score"
)

// photoExtensions are the files taken from a folder; a file named by the user is tried whatever its name.
var photoExtensions = []string{".jpg", ".jpeg", ".png", ".tif", ".tiff", ".bmp", ".webp", ".gif", ".heic", ".heif"}

// ownPictures are the program's own output, which is never input, even where both share a folder.
var ownPictures = []string{score.RegionSuffix, score.DepositSuffix, score.OverlaySuffix}

// photoList is the input of a run: photos in the order given, each file once, and remarks on what was left out.
type photoList struct {
	paths   []string
	remarks []string
	seen    map[string]bool
	// inspection is what the photos belong to; nil for photos on their own.
	inspection *inspection.Inspection
}

// listPhotos turns arguments into photos. A folder stands for the photos in it by name, without those of its sub-folders, or,
// when it is an inspection, for the photos of that; a pattern that names no file itself is expanded, for shells that leave
// that to the program. A named file that does not exist stays in the list: it becomes one refusal and does not lose the others.
func listPhotos(args []string) (*photoList, error) {
	list := &photoList{seen: map[string]bool{}}
	if len(args) == 1 && isInspection(args[0]) {
		return list, list.addInspection(args[0])
	}
	for _, arg := range args {
		if err := list.add(arg); err != nil {
			return nil, err
		}
	}
	if len(list.paths) == 0 {
		what := "no photo given"
		if len(list.remarks) > 0 {
			what = "no photo to score: " + strings.Join(list.remarks, "; ")
		}
		return nil, hinted(misuse("%s", what), "valvegrade score takes photos, folders with photos, and patterns such as 'port*.jpg'")
	}
	return list, nil
}

func (l *photoList) add(arg string) error {
	info, err := os.Stat(arg)
	switch {
	case err == nil && isInspection(arg):
		return hinted(misuse("%q is an inspection, which is scored by itself", arg), "valvegrade score %q", arg)
	case err == nil && info.IsDir():
		return l.addFolder(arg)
	case err == nil || !strings.ContainsAny(arg, "*?["):
		l.addFile(arg)
		return nil
	}
	matches, err := filepath.Glob(arg)
	if err != nil {
		return misuse("%q is no pattern: %w", arg, err)
	}
	if len(matches) == 0 {
		l.remark("nothing matches %q", arg)
	}
	for _, match := range matches {
		if err := l.add(match); err != nil {
			return err
		}
	}
	return nil
}

func (l *photoList) addFolder(dir string) error {
	entries, err := os.ReadDir(dir)
	if err != nil {
		return fmt.Errorf("cannot list the folder: %w", err)
	}
	found := false
	for _, entry := range entries {
		if !entry.IsDir() && isPhotoName(entry.Name()) {
			l.addFile(filepath.Join(dir, entry.Name()))
			found = true
		}
	}
	if !found {
		l.remark("no photo in folder %q", dir)
	}
	return nil
}

// isInspection reports whether the argument is a folder with inspection.yaml, good or bad.
func isInspection(arg string) bool {
	_, err := os.Stat(filepath.Join(arg, inspection.File))
	return err == nil
}

// addInspection takes the photos that the inspection names, and remarks on those of the folder that it does not.
func (l *photoList) addInspection(dir string) error {
	i, err := loadInspection(dir)
	if err != nil {
		return err
	}
	l.inspection = i
	l.paths = i.Paths()
	l.seen[absolute(filepath.Join(dir, inspection.File))] = true
	for _, path := range l.paths {
		l.seen[absolute(path)] = true
	}
	others, err := l.unlisted(dir)
	if err != nil {
		return err
	}
	for _, path := range others {
		l.leaveOut(path)
	}
	return nil
}

// unlisted are the photos of an inspection's folder that are not in the list.
func (l *photoList) unlisted(dir string) ([]string, error) {
	others := &photoList{seen: maps.Clone(l.seen)}
	err := others.addFolder(dir)
	return others.paths, err
}

func (l *photoList) leaveOut(path string) {
	l.remark("%q is not in %s and was left out", path, inspection.File)
}

func (l *photoList) addFile(path string) {
	if strings.HasSuffix(path, region.MarksPath("")) {
		l.remark("%q holds marks and is no photo", path)
		return
	}
	whole := absolute(path)
	if l.seen[whole] {
		l.remark("%q is given twice and scored once", path)
		return
	}
	l.seen[whole] = true
	l.paths = append(l.paths, path)
}

// absolute tells apart and finds again files named in different ways.
func absolute(path string) string {
	whole, err := filepath.Abs(path)
	if err != nil {
		return filepath.Clean(path)
	}
	return whole
}

func (l *photoList) remark(format string, args ...any) {
	l.remarks = append(l.remarks, fmt.Sprintf(format, args...))
}

// isPhotoName reports whether a file of a folder is taken for a photo: by its extension, unless it is hidden or our own.
func isPhotoName(name string) bool {
	lower := strings.ToLower(name)
	isOwn := func(suffix string) bool { return strings.HasSuffix(lower, suffix) }
	return !strings.HasPrefix(name, ".") && slices.Contains(photoExtensions, filepath.Ext(lower)) && !slices.ContainsFunc(ownPictures, isOwn)
}
