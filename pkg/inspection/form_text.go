package inspection

import (
	"bytes"
	"errors"
	"fmt"
	"maps"
	"reflect"
	"slices"
	"strconv"
	"strings"
)

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

func (f *Form) stage() Stage {
	if f.Stage == "" {
		return Routine
	}
	return f.Stage
}

// line is an entry that may be left out.
func line(key, text string) string { return unless(text == "", key+":"+quoted(text)) }

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

// unless returns the text, or "" where there is nothing to say.
func unless(nothing bool, text string) string {
	if nothing {
		return ""
	}
	return text
}
