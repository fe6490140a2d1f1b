package inspection

import (
	"bytes"
	_ "embed"
	"path/filepath"
	"strconv"
	"text/template"
	"time"
)

// DraftOptions steer Draft. The zero value is right for most folders.
type DraftOptions struct {
	// Pattern finds cylinder and valve in file names; nil tries the usual ways of naming.
	Pattern *Pattern
	// Taken returns when a photo was taken, nil when its file does not say; nil asks nobody, and the date is left open.
	Taken func(path string) *time.Time
}

//go:embed draft.yaml.tmpl
var draftText string

var draftTemplate = template.Must(template.New(File).Funcs(template.FuncMap{"quote": strconv.Quote}).Parse(draftText))

// draft is what the template shows.
type draft struct {
	Vehicle           string
	Cylinders, Valves int
	Date              string
	Taken             string // the span of days when the photos were taken on several, else ""
	Known, Unknown    []Photo
}

// Draft proposes an inspection.yaml for the photos of a folder, given relative to it. What can be guessed from names and
// capture times is filled in, what cannot is left open with a word on what to write: Load will name each by its line. Photos
// whose place is not clear stand at the end as comments.
func Draft(dir string, files []string, o DraftOptions) ([]byte, error) {
	absolute, err := filepath.Abs(dir)
	if err != nil {
		return nil, err
	}
	d := draft{Vehicle: filepath.Base(absolute), Cylinders: 1, Valves: 1}
	for i, p := range guess(files, o.Pattern) {
		photo := Photo{File: filepath.ToSlash(files[i]), Cylinder: p.cylinder, Valve: p.valve}
		if p.cylinder == 0 || p.valve == 0 {
			d.Unknown = append(d.Unknown, photo)
			continue
		}
		d.Known = append(d.Known, photo)
		d.Cylinders, d.Valves = max(d.Cylinders, p.cylinder), max(d.Valves, p.valve)
	}
	if o.Taken != nil {
		d.date(dir, files, o.Taken)
	}
	var text bytes.Buffer
	if err := draftTemplate.Execute(&text, d); err != nil {
		return nil, err
	}
	return text.Bytes(), nil
}

// date takes the day of the last photo.
func (d *draft) date(dir string, files []string, taken func(string) *time.Time) {
	var first, last string
	for _, file := range files {
		when := taken(filepath.Join(dir, file))
		if when == nil {
			continue
		}
		day := when.Format(time.DateOnly)
		if first == "" || day < first {
			first = day
		}
		last = max(last, day)
	}
	d.Date = last
	if first != last {
		d.Taken = first + " to " + last
	}
}
