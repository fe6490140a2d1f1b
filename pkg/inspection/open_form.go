package inspection

import (
	"bytes"
	"errors"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strconv"
	"strings"

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

// Write returns the text of the form. Of old, the text that stands in the file now, everything is kept as it was
// written but for what the form says otherwise: remarks and order are the user's own.
func (f *Form) Write(old []byte) ([]byte, error) {
	text := f.fresh()
	if edited, ok := f.edit(old); ok {
		text = edited
	}
	back, err := ParseForm(File, text)
	if err != nil {
		return nil, fmt.Errorf("the form cannot be written: %w", err)
	}
	if !f.same(back) {
		return nil, errors.New("the form cannot be written: it would read otherwise")
	}
	return text, nil
}

// same reports whether two forms say the same.
func (f *Form) same(other *Form) bool {
	return reflect.DeepEqual(f.plain(), other.plain())
}

// plain is the form with one way of saying nothing, and its photos in the order of the engine.
func (f *Form) plain() *Form {
	c := f.Clone()
	c.Stage = f.stage()
	if len(c.Methods) == 0 {
		c.Methods = nil
	}
	if len(c.Overruled) == 0 {
		c.Overruled = nil
	}
	if len(c.Banks) == 0 {
		c.Banks = nil
	}
	if len(c.Photos) == 0 {
		c.Photos = nil
	}
	for n := range c.Photos {
		if len(c.Photos[n].Valves) == 0 {
			c.Photos[n].Valves = nil
		}
	}
	sortEntries(c.Photos)
	return c
}

// sortEntries puts entries into the order of the engine; those of one valve keep theirs.
func sortEntries(entries []Entry) {
	slices.SortStableFunc(entries, func(a, b Entry) int {
		return slices.Compare(append([]int{a.Cylinder}, a.Valves...), append([]int{b.Cylinder}, b.Valves...))
	})
}

// blocks are the entries at the left margin with their text, in the order of a fresh file; "" where there is nothing to
// say.
func (f *Form) blocks() []block {
	return []block{
		{
			"vehicle",
			"vehicle:" + quoted(f.Vehicle),
			"The shop's own reference. Inspections of one vehicle carry the same.",
		},
		{"plate", line("plate", f.Card.Plate), ""},
		{"vin", line("vin", f.Card.VIN), ""},
		{"job", line("job", f.Card.Job), ""},
		{"technician", line("technician", f.Card.Technician), ""},
		{"wish", line("wish", f.Card.Wish), "What the customer asked for"},
		{"engine", f.engineBlock(), "Intake valves are those of one cylinder."},
		{"date", "date:" + bare(f.Date), "The day of the inspection, YYYY-MM-DD"},
		{"odometer", "odometer:" + bare(f.Odometer), "The reading with its unit, mi or km"},
		{"stage", "stage: " + string(f.stage()), "routine: an inspection on its own; before, after: around a cleaning"},
		{"methods", f.methodsBlock(), "How each cylinder was cleaned"},
		{"notes", f.notesBlock(), ""},
		{"photos", f.photosBlock(), "Cylinders and valves count from 1. Several photos of one valve are combined."},
		{"overruled", f.overruledBlock(), "Grades that a person gives beside the measured ones"},
	}
}

type block struct{ key, text, remark string }

func (f *Form) stage() Stage {
	if f.Stage == "" {
		return Routine
	}
	return f.Stage
}

func quoted(text string) string {
	if text == "" {
		return ""
	}
	return " " + strconv.Quote(text)
}

// bare leaves what needs no quotes without.
func bare(text string) string {
	plain := text != "" && strings.Trim(text, "0123456789abcdefghijklmnopqrstuvwxyz -.") == "" &&
		text == strings.TrimSpace(text)
	if plain {
		return " " + text
	}
	return quoted(text)
}

func count(n int) string {
	if n == 0 {
		return ""
	}
	return " " + strconv.Itoa(n)
}

func numbers(list []int) string { return strings.ReplaceAll(fmt.Sprint(list), " ", ", ") }

func (f *Form) engineBlock() string {
	text := "engine:\n  cylinders:" + count(f.Engine.Cylinders) + "\n  valves:" + count(f.Engine.Valves)
	text += unless(f.Card.Family == "", "\n  family:"+quoted(f.Card.Family))
	if len(f.Banks) > 0 {
		rows := make([]string, len(f.Banks))
		for n, row := range f.Banks {
			rows[n] = numbers(row)
		}
		text += "\n  banks: [" + strings.Join(rows, ", ") + "]"
	}
	return text
}

// line is an entry that may be left out.
func line(key, text string) string { return unless(text == "", key+":"+quoted(text)) }

func (f *Form) methodsBlock() string {
	text := "methods:"
	for _, cylinder := range slices.Sorted(maps.Keys(f.Methods)) {
		text += fmt.Sprintf("\n  %d:%s", cylinder, quoted(f.Methods[cylinder]))
	}
	return unless(len(f.Methods) == 0, text)
}

func (f *Form) notesBlock() string { return unless(f.Notes == "", "notes:"+quoted(f.Notes)) }

func (f *Form) photosBlock() string {
	photos := slices.Clone(f.Photos)
	sortEntries(photos)
	text := "photos:"
	for _, e := range photos {
		text += fmt.Sprintf("\n  - file: %q\n    cylinder: %d", e.File, e.Cylinder)
		if len(e.Valves) == 1 {
			text += fmt.Sprintf("\n    valve: %d", e.Valves[0])
		} else {
			text += "\n    valves: " + numbers(e.Valves)
		}
		if e.LeftOut != nil {
			text += fmt.Sprintf("\n    left_out: {by: %q, reason: %q}", e.LeftOut.By, e.LeftOut.Reason)
		}
	}
	return text
}

func (f *Form) overruledBlock() string {
	text := "overruled:"
	for _, o := range f.Overruled {
		text += fmt.Sprintf("\n  - {cylinder: %d, valve: %d, grade: %d, by: %q, reason: %q}",
			o.Cylinder, o.Valve, o.Grade, o.By, o.Reason)
	}
	return unless(len(f.Overruled) == 0, text)
}

// unless returns the text, or "" where there is nothing to say.
func unless(nothing bool, text string) string {
	if nothing {
		return ""
	}
	return text
}

// fresh is the text of a file that is not there yet.
func (f *Form) fresh() []byte {
	var text bytes.Buffer
	for n, b := range f.blocks() {
		if b.text == "" {
			continue
		}
		if n > 0 {
			text.WriteString("\n")
		}
		if b.remark != "" {
			fmt.Fprintf(&text, "# %s\n", b.remark)
		}
		text.WriteString(b.text + "\n")
	}
	return text.Bytes()
}
