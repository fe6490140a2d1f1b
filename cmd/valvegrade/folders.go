package main

import (
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"valvegrade/pkg/folder"
	"valvegrade/pkg/inspection"
	"valvegrade/pkg/region"
)

// textExtensions are files that lie beside photos and that nobody takes for one: left out without a word.
var textExtensions = []string{".yaml", ".yml", ".json", ".csv", ".txt", ".md", ".html", ".pdf", ".svg"}

// addFolder takes the photos right in a folder.
func (l *photoList) addFolder(dir string) error {
	entries, err := os.ReadDir(dir)
	if err != nil {
		return fmt.Errorf("cannot list the folder: %w", err)
	}
	found := false
	for _, entry := range entries {
		found = l.addEntry(dir, entry) || found
	}
	if !found {
		l.remark("no photo in folder %q", dir)
	}
	return nil
}

// addTree takes the photos of a folder and of the folders in it, by name, those right in a folder before those of its
// folders.
func (l *photoList) addTree(dir string) error {
	before := len(l.paths)
	if err := l.addBranch(dir); err != nil {
		return fmt.Errorf("cannot list the folder: %w", err)
	}
	if len(l.paths) == before {
		l.remark("no photo in folder %q", dir)
	}
	return nil
}

// addBranch is addTree without a word on a folder that has no photos; of folders in it that cannot be listed it remarks
// so.
func (l *photoList) addBranch(dir string) error {
	entries, err := os.ReadDir(dir)
	if err != nil {
		return err
	}
	var folders []string
	for _, entry := range entries {
		if entry.IsDir() && !strings.HasPrefix(entry.Name(), ".") {
			folders = append(folders, filepath.Join(dir, entry.Name()))
		} else {
			l.addEntry(dir, entry)
		}
	}
	for _, folder := range folders {
		if isInspection(folder) {
			l.remark(
				"%q is an inspection, whose photos are scored on their own here: valvegrade score %q grades its engine",
				folder,
				folder,
			)
		}
		if err := l.addBranch(folder); err != nil { // the others can be scored all the same
			l.remark("folder %q is left out: %v", folder, cause(err))
		}
	}
	return nil
}

// addEntry takes a file of a folder if it is a photo by its name, and keeps the names of those that are none.
func (l *photoList) addEntry(dir string, entry fs.DirEntry) bool {
	path, kind := filepath.Join(dir, entry.Name()), strings.ToLower(filepath.Ext(entry.Name()))
	switch {
	case entry.IsDir() || strings.HasPrefix(entry.Name(), ".") || folder.IsDrawn(entry.Name()) || slices.Contains(textExtensions, kind):
		return false
	case !folder.IsPhoto(entry.Name()):
		l.others = append(l.others, path)
		return false
	}
	l.addFile(path)
	return true
}

// isInspection reports whether the argument is a folder with inspection.yaml, good or bad.
func isInspection(arg string) bool {
	_, err := os.Stat(filepath.Join(arg, inspection.File))
	return err == nil
}

// mostNamed is how many files are named in one remark.
const mostNamed = 5

// remarkOthers names, in one remark, the files of the folders that are no photos.
func (l *photoList) remarkOthers() {
	if len(l.others) == 0 {
		return
	}
	l.remark("left out, as they are no photos: %s", named(l.others))
}

// remarkStrayMarks names, in one remark, marks beside the photos that are read for none of them.
func (l *photoList) remarkStrayMarks() {
	var stray, folders []string
	for _, path := range l.paths {
		if dir := filepath.Dir(path); !slices.Contains(folders, dir) {
			folders = append(folders, dir)
			stray = append(stray, l.strayMarks(dir)...)
		}
	}
	if len(stray) > 0 {
		l.remark("marks that are read for no photo: %s; those of IMG_0012.JPG are %s or %s",
			named(stray), region.MarksPath("IMG_0012.JPG"), region.MarksPath("IMG_0012"))
	}
}

// strayMarks are the marks in a folder that belong to none of its photos, whether these are scored or not.
func (l *photoList) strayMarks(dir string) []string {
	here := &photoList{seen: map[string]bool{}}
	if here.addFolder(dir) != nil {
		return nil // a photo can be read where its folder cannot
	}
	var photos []string
	for _, path := range slices.Concat(here.paths, l.paths) {
		if filepath.Dir(path) == dir {
			photos = append(photos, filepath.Base(path))
		}
	}
	stray, err := region.StrayMarks(dir, photos)
	if err != nil {
		return nil
	}
	for i, name := range stray {
		stray[i] = filepath.Join(dir, name)
	}
	return stray
}

// named lists files, the first few by name.
func named(files []string) string {
	var quoted []string
	for _, file := range files[:min(mostNamed, len(files))] {
		quoted = append(quoted, fmt.Sprintf("%q", file))
	}
	text := strings.Join(quoted, ", ")
	if more := len(files) - mostNamed; more > 0 {
		text += fmt.Sprintf(" and %d more", more)
	}
	return text
}
