package inspection

import (
	"cmp"
	"errors"
	"fmt"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"

	"golang.org/x/text/unicode/norm"

	"valvegrade/internal/limit"
	"valvegrade/internal/yamlform"
)

// ErrNone is returned for a folder without inspection.yaml.
var ErrNone = errors.New("no " + File + " in the folder")

// FileError lists everything that is wrong with an inspection.yaml.
type FileError struct {
	Path   string
	Faults []Fault
}

// Fault is one thing wrong. Line counts from 1; 0 when it belongs to no line. Open marks what was left to fill in.
type Fault struct {
	Line int
	Text string
	Open bool
}

// Unfilled reports whether nothing is wrong but what was left to fill in.
func (e *FileError) Unfilled() bool {
	return !slices.ContainsFunc(e.Faults, func(f Fault) bool { return !f.Open })
}

// Error writes one line per fault: "DIR/inspection.yaml:12: odometer has no unit ...".
func (e *FileError) Error() string { return strings.Join(e.Lines(), "\n") }

// Lines returns one line per fault.
func (e *FileError) Lines() []string {
	lines := make([]string, len(e.Faults))
	for i, f := range e.Faults {
		if f.Line == 0 {
			lines[i] = fmt.Sprintf("%s: %s", e.Path, f.Text)
		} else {
			lines[i] = fmt.Sprintf("%s:%d: %s", e.Path, f.Line, f.Text)
		}
	}
	return lines
}

// Load reads the inspection in a folder and checks that its photos are there. An error about the content of the file is
// a *FileError and lists all faults at once; ErrNone is wrapped when the folder has no inspection.yaml.
func Load(dir string) (*Inspection, error) {
	inspection, form, err := read(dir)
	if err != nil {
		return nil, err
	}
	if faults := inspection.missing(form); len(faults) > 0 {
		return nil, &FileError{filepath.Join(dir, File), faults}
	}
	sortPhotos(inspection.Photos)
	return inspection, nil
}

// Read is Load for a folder whose photos may be gone or renamed: it does not look for them.
func Read(dir string) (*Inspection, error) {
	inspection, _, err := read(dir)
	if err != nil {
		return nil, err
	}
	sortPhotos(inspection.Photos)
	return inspection, nil
}

// read returns the inspection in a folder and its form, with the photos as in the file.
func read(dir string) (*Inspection, *form, error) {
	path := filepath.Join(dir, File)
	text, err := limit.ReadFile(path, limit.FormBytes)
	var large *limit.TooLarge
	switch {
	case errors.Is(err, os.ErrNotExist):
		return nil, nil, fmt.Errorf("%s: %w", dir, ErrNone)
	case errors.As(err, &large), errors.Is(err, limit.ErrNoFile):
		return nil, nil, &FileError{path, []Fault{{Text: err.Error()}}}
	case err != nil:
		return nil, nil, err
	}
	inspection, form, err := parse(path, text)
	if err != nil {
		return nil, nil, err
	}
	inspection.Dir = dir
	return inspection, form, nil
}

// Parse reads the text of an inspection.yaml without looking for the photos. path stands in errors only.
func Parse(path string, text []byte) (*Inspection, error) {
	inspection, _, err := parse(path, text)
	if err != nil {
		return nil, err
	}
	sortPhotos(inspection.Photos)
	return inspection, nil
}

// sortPhotos puts photos into the order of the engine, in which results are shown and written.
func sortPhotos(photos []Photo) {
	slices.SortStableFunc(photos, func(a, b Photo) int {
		return cmp.Or(cmp.Compare(a.Cylinder, b.Cylinder), cmp.Compare(a.Valve, b.Valve))
	})
}

// Sort puts the photos into the order of the engine, in which results are shown and written.
func (i *Inspection) Sort() { sortPhotos(i.Photos) }

func parse(path string, text []byte) (*Inspection, *form, error) {
	f, err := parseForm(text)
	var fault *yamlform.Fault
	switch {
	case errors.As(err, &fault):
		return nil, nil, &FileError{path, []Fault{{Line: fault.Line, Text: fault.Words}}}
	case err != nil:
		return nil, nil, &FileError{path, []Fault{{Text: err.Error()}}}
	}
	c := check{form: f}
	inspection := c.inspection()
	if len(c.faults) > 0 {
		return nil, nil, &FileError{path, c.faults}
	}
	return inspection, f, nil
}

// missing reports every photo that is not a file in the folder.
func (i *Inspection) missing(f *form) []Fault {
	var faults []Fault
	for n, file := range i.Files() { // still in the order of the form, which has each once
		line := f.Photos[n].File.line
		info, err := os.Stat(i.Path(Photo{File: file}))
		switch {
		case errors.Is(err, os.ErrNotExist):
			faults = append(faults, Fault{Line: line, Text: i.absent(file)})
		case err != nil:
			faults = append(faults, Fault{Line: line, Text: fmt.Sprintf("photo %q: %v", file, err)})
		case !info.Mode().IsRegular():
			faults = append(faults, Fault{Line: line, Text: fmt.Sprintf("photo %q is not a file", file)})
		}
	}
	return faults
}

// absent says that a photo is not there, and which file of the same name but for upper and lower case is: cards and cameras
// write either. Letters such as ä are composed in two ways, which look alike: files from a Mac have the other one.
func (i *Inspection) absent(file string) string {
	entries, _ := os.ReadDir(filepath.Dir(i.Path(Photo{File: file})))
	for _, e := range entries {
		if norm.NFC.String(e.Name()) == norm.NFC.String(path.Base(file)) {
			return fmt.Sprintf("photo %q is not in the folder, but a file whose name looks the same is: rename it, typing the name anew", file)
		}
		if strings.EqualFold(e.Name(), path.Base(file)) {
			there := path.Join(path.Dir(file), e.Name())
			return fmt.Sprintf("photo %q is not in the folder, but %q is: write it with the same capitals", file, there)
		}
	}
	return fmt.Sprintf("photo %q is not in the folder", file)
}
