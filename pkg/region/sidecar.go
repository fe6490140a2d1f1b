package region

import (
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
)

// MarksSuffix is how the name of a file with marks ends, in small letters or capitals.
const MarksSuffix = ".marks.yaml"

// MarksPath returns where the marks of a photo are kept: beside it, under its full name.
func MarksPath(photo string) string { return photo + MarksSuffix }

// IsMarks reports whether a file name is that of marks.
func IsMarks(name string) bool { return strings.HasSuffix(strings.ToLower(name), MarksSuffix) }

// FindMarks returns the file beside a photo that holds its marks, "" when there is none: IMG_0023.JPG.marks.yaml, else
// IMG_0023.marks.yaml, as written before in other capitals.
func FindMarks(photo string) string {
	dir, name := filepath.Split(photo)
	files, err := os.ReadDir(filepath.Clean(dir + "."))
	if err != nil { // a folder that cannot be listed may have files that can be read
		return existing(MarksPath(photo), MarksPath(withoutExtension(photo)))
	}
	if found := MarksAmong(name, files); found != "" {
		return dir + found
	}
	return ""
}

// StrayMarks returns the files with marks in a folder that are read for none of the photos of the given names in it.
func StrayMarks(dir string, photos []string) ([]string, error) {
	files, err := os.ReadDir(dir)
	if err != nil {
		return nil, err
	}
	files = slices.DeleteFunc(files, func(f fs.DirEntry) bool { return !IsMarks(f.Name()) })
	read := map[string]bool{}
	for _, photo := range photos {
		read[MarksAmong(photo, files)] = true
	}
	var stray []string
	for _, file := range files {
		if !read[file.Name()] {
			stray = append(stray, file.Name())
		}
	}
	return stray, nil
}

// MarksAmong returns which of the files of its folder holds the marks of a photo, "" for none; photo is its name
// without the folder. It is FindMarks for who has listed the folder already.
func MarksAmong(photo string, files []fs.DirEntry) string {
	for _, wanted := range []string{MarksPath(photo), MarksPath(withoutExtension(photo))} {
		alike := func(f fs.DirEntry) bool { return strings.EqualFold(f.Name(), wanted) }
		if i := slices.IndexFunc(files, func(f fs.DirEntry) bool { return f.Name() == wanted }); i >= 0 {
			return wanted
		}
		if i := slices.IndexFunc(files, alike); i >= 0 {
			return files[i].Name()
		}
	}
	return ""
}

// existing returns the first of the files that is there, else "".
func existing(paths ...string) string {
	for _, path := range paths {
		if _, err := os.Stat(path); err == nil {
			return path
		}
	}
	return ""
}

func withoutExtension(name string) string { return strings.TrimSuffix(name, filepath.Ext(name)) }
