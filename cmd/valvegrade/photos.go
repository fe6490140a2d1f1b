package main

import (
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"valvegrade/pkg/inspection"
	"valvegrade/pkg/region"
)

// photoList is the input of a run: photos in the order given, each file once, and remarks on what was left out.
type photoList struct {
	paths   []string
	remarks []string
	seen    map[string]bool
	// others are the files of folders that are no photos.
	others []string
	// inspection is what the photos belong to; nil for photos on their own.
	inspection *inspection.Inspection
}

// listPhotos turns arguments into photos. A folder stands for the photos in it and in its folders, or, when it is an
// inspection that is filled in, for the photos of that; a pattern that names no file itself is expanded, for shells
// that leave that to the program. A named file that does not exist stays in the list: it becomes one refusal and does
// not lose the others. Where there are no others it is wrong usage.
func listPhotos(args []string) (*photoList, error) {
	list := &photoList{seen: map[string]bool{}}
	add := list.add
	if len(args) == 1 && isInspection(args[0]) {
		add = list.addInspection
	}
	for _, arg := range args {
		if err := add(arg); err != nil {
			return nil, err
		}
	}
	list.remarkOthers()
	list.remarkStrayMarks()
	if list.inspection == nil && len(list.paths) > 0 && !slices.ContainsFunc(list.paths, isThere) {
		return nil, hinted(
			misuse("cannot read %s: no such file or directory", named(list.paths)),
			"check the names; a folder stands for the photos in it",
		)
	}
	if len(list.paths) == 0 {
		what := "no photo given"
		if len(list.remarks) > 0 {
			what = "no photo to score: " + strings.Join(list.remarks, "; ")
		}
		return nil, hinted(
			misuse("%s", what),
			"valvegrade score takes photos, folders with photos, and patterns such as 'port*.jpg'",
		)
	}
	return list, nil
}

// unit is that of the inspection's odometer, "" where there is none.
func (l *photoList) unit() inspection.Unit {
	if l.inspection == nil {
		return ""
	}
	return l.inspection.Odometer.Unit
}

// isThere reports whether there is anything of that name, and be it a link that leads nowhere.
func isThere(path string) bool {
	_, err := os.Lstat(path)
	return !errors.Is(err, fs.ErrNotExist)
}

func (l *photoList) add(arg string) error {
	info, err := os.Stat(arg)
	switch {
	case err == nil && isInspection(arg):
		return hinted(misuse("%q is an inspection, which is scored by itself", arg), "valvegrade score %q", arg)
	case err == nil && info.IsDir():
		return l.addTree(arg)
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

// addInspection takes the photos that the inspection names, and remarks on those of the folder that it does not. Of one
// that is not filled in it takes the folder's photos on their own, and remarks on what is open.
func (l *photoList) addInspection(dir string) error {
	l.seen[absolute(filepath.Join(dir, inspection.File))] = true
	i, err := loadInspection(dir)
	var faulty *inspection.FileError
	if errors.As(err, &faulty) && faulty.Unfilled() {
		l.remarks = append(l.remarks, faulty.Lines()...)
		l.remark("photos are scored on their own; their engine is graded once %s is filled in", inspection.File)
		return l.addTree(dir)
	}
	if err != nil {
		return err
	}
	l.inspection = i
	l.paths = i.Paths()
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

// unlisted are the photos right in an inspection's folder that are not in the list.
func (l *photoList) unlisted(dir string) ([]string, error) {
	others := &photoList{seen: maps.Clone(l.seen)}
	err := others.addFolder(dir)
	return others.paths, err
}

func (l *photoList) leaveOut(path string) {
	l.remark("%q is not in %s and was left out", path, inspection.File)
}

func (l *photoList) addFile(path string) {
	if region.IsMarks(path) {
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
