package inspection

import (
	"bytes"
	"errors"
	"maps"
	"os"
	"path/filepath"
	"slices"

	"valvegrade/internal/limit"
)

// Form is inspection.yaml while it is being filled in: whatever is not known yet is empty or 0. The zero value is that
// of a folder in which nothing was decided yet.
type Form struct {
	Vehicle string
	Engine  Layout
	// Banks are as in Inspection.
	Banks [][]int
	// Date is YYYY-MM-DD, Odometer a reading with its unit; both as written.
	Date, Odometer string
	Stage          Stage
	Methods        map[int]string
	Notes          string
	// Card is as in Inspection.
	Card JobCard
	// Photos are those whose valves are known, each once.
	Photos    []Entry
	Overruled []Overruled
}

// ReadForm reads the inspection.yaml of a folder as far as it is filled in, with its text; both are empty for a folder
// without one. What stands in it and cannot be taken is a *FileError, and then the form must not be written back.
func ReadForm(dir string) (*Form, []byte, error) {
	path := filepath.Join(dir, File)
	text, err := limit.ReadFile(path, limit.FormBytes)
	if errors.Is(err, os.ErrNotExist) {
		return &Form{}, nil, nil
	}
	if err != nil {
		return nil, nil, &FileError{path, []Fault{{Text: err.Error()}}}
	}
	form, err := ParseForm(path, text)
	return form, text, err
}

// ParseForm reads the text of an inspection.yaml as far as it is filled in. path stands in errors only.
func ParseForm(path string, text []byte) (*Form, error) {
	if len(bytes.TrimSpace(text)) == 0 {
		return &Form{}, nil
	}
	f, err := parseForm(text)
	if err != nil {
		_, _, err = parse(path, text) // which tells it in the words of a fault
		return nil, err
	}
	c := check{form: f}
	i := c.inspection()
	wrong := slices.DeleteFunc(c.faults, func(fault Fault) bool { return fault.Open })
	if len(wrong) > 0 {
		return nil, &FileError{path, wrong}
	}
	form := &Form{
		Vehicle: i.Vehicle, Engine: i.Engine, Banks: i.Banks, Date: f.Date.text, Odometer: f.Odometer.text, Stage: i.Stage,
		Methods: i.Methods, Notes: i.Notes, Card: i.Card, Overruled: i.Overruled,
	}
	if len(form.Methods) == 0 {
		form.Methods = nil
	}
	for _, p := range i.Photos {
		if p.Cylinder > 0 && p.Valve > 0 {
			form.Photos = add(form.Photos, p)
		}
	}
	return form, nil
}

// add puts a photo's valve among the entries.
func add(entries []Entry, p Photo) []Entry {
	if at := slices.IndexFunc(entries, func(e Entry) bool { return e.File == p.File }); at >= 0 {
		entries[at].Valves = append(entries[at].Valves, p.Valve)
		return entries
	}
	return append(entries, Entry{File: p.File, Cylinder: p.Cylinder, Valves: []int{p.Valve}, LeftOut: p.LeftOut})
}

// Open lists what keeps the form from being a whole inspection; empty when nothing does.
func (f *Form) Open() []Fault {
	_, err := Parse(File, f.fresh())
	var open *FileError
	if errors.As(err, &open) {
		return open.Faults
	}
	return nil
}

// Inspection returns what the form says of the folder, and a *FileError while something is open.
func (f *Form) Inspection(dir string) (*Inspection, error) {
	i, err := Parse(filepath.Join(dir, File), f.fresh())
	if err != nil {
		return nil, err
	}
	i.Dir = dir
	return i, nil
}

// Rows returns the rows in which the cylinders stand.
func (f *Form) Rows() [][]int { return rowsOf(f.Banks, f.Engine) }

// Entry returns what is known of a photo, nil when its valve is not.
func (f *Form) Entry(file string) *Entry {
	at := slices.IndexFunc(f.Photos, func(e Entry) bool { return e.File == file })
	if at < 0 {
		return nil
	}
	return &f.Photos[at]
}

// Clone returns a copy that shares nothing.
func (f *Form) Clone() *Form {
	c := *f
	c.Methods = maps.Clone(f.Methods)
	c.Overruled = slices.Clone(f.Overruled)
	c.Photos = slices.Clone(f.Photos)
	for n := range c.Photos {
		c.Photos[n].Valves = slices.Clone(c.Photos[n].Valves)
		if left := c.Photos[n].LeftOut; left != nil {
			c.Photos[n].LeftOut = new(*left)
		}
	}
	c.Banks = slices.Clone(f.Banks)
	for n := range c.Banks {
		c.Banks[n] = slices.Clone(c.Banks[n])
	}
	return &c
}
