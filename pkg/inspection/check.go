package inspection

import (
	"fmt"
	"io/fs"
	"maps"
	"path"
	"slices"
	"strconv"
	"strings"
	"time"
)

// check turns a form into an inspection and gathers all faults on the way.
type check struct {
	form   *form
	faults []Fault
}

func (c *check) fault(line int, format string, args ...any) {
	c.faults = append(c.faults, Fault{Line: line, Text: fmt.Sprintf(format, args...)})
}

// open is a fault of something that was left to fill in.
func (c *check) open(line int, format string, args ...any) {
	c.faults = append(c.faults, Fault{Line: line, Text: fmt.Sprintf(format, args...), Open: true})
}

// required reports whether the entry under a key at the left margin was filled in.
func (c *check) required(s scalar, key, hint string) bool {
	if strings.TrimSpace(s.text) == "" {
		c.open(max(s.line, c.form.lines[key]), "%s is missing: %s", key, hint)
		return false
	}
	return true
}

func (c *check) inspection() *Inspection {
	i := &Inspection{Vehicle: c.form.Vehicle.text, Notes: c.form.Notes.text, Card: c.card()}
	c.required(c.form.Vehicle, "vehicle", "give the shop's own reference")
	i.Engine = c.layout()
	i.Date = c.date()
	if c.required(c.form.Odometer, "odometer", "write the reading with its unit, such as 45210 mi") {
		odometer, err := ParseOdometer(c.form.Odometer.text)
		if err != nil {
			c.fault(c.form.Odometer.line, "%v", err)
		}
		i.Odometer = odometer
	}
	i.Stage = c.stage()
	bounds := i.Engine // where the layout itself is at fault, anything possible is let through
	if bounds.Cylinders == 0 {
		bounds.Cylinders = MostCylinders
	}
	if bounds.Valves == 0 {
		bounds.Valves = MostValves
	}
	i.Methods = c.methods(bounds)
	i.Photos = c.photos(bounds)
	i.Banks, i.Overruled = c.banks(bounds), c.overruled(bounds)
	slices.SortStableFunc(c.faults, func(a, b Fault) int { return a.Line - b.Line })
	return i
}

func (c *check) card() JobCard {
	text := func(s scalar) string { return strings.Join(strings.Fields(s.text), " ") }
	return JobCard{
		Plate: text(c.form.Plate), VIN: text(c.form.VIN), Family: text(c.form.Engine.Family),
		Job: text(c.form.Job), Technician: text(c.form.Technician), Wish: text(c.form.Wish),
	}
}

func (c *check) layout() Layout {
	e := c.form.Engine
	line := c.form.lines["engine"]
	return Layout{
		Cylinders: c.count(e.Cylinders, line, "the number of cylinders", MostCylinders),
		Valves:    c.count(e.Valves, line, "the number of intake valves of each cylinder", MostValves),
	}
}

// count reads a whole number from 1 to most, and returns 0 with a fault for anything else.
func (c *check) count(s scalar, fallback int, what string, most int) int {
	line := s.line
	if line == 0 { // left empty
		line = fallback
	}
	if s.text == "" {
		c.open(line, "%s is missing", what)
		return 0
	}
	n, err := strconv.Atoi(s.text)
	switch {
	case err == nil && n >= 1 && n <= most:
		return n
	case most == 1:
		c.fault(line, "%s %q is not 1, and there is no other", what, s.text)
	default:
		c.fault(line, "%s %q is not a whole number from 1 to %d", what, s.text, most)
	}
	return 0
}

func (c *check) date() time.Time {
	if !c.required(c.form.Date, "date", "write the day of the inspection as YYYY-MM-DD") {
		return time.Time{}
	}
	day, err := ParseDay(c.form.Date.text)
	if err != nil {
		c.fault(c.form.Date.line, "%v", err)
	}
	return day
}

func (c *check) stage() Stage {
	if !c.required(c.form.Stage, "stage", "write routine, before or after") {
		return ""
	}
	stage := Stage(strings.ToLower(strings.TrimSpace(c.form.Stage.text)))
	if !stage.Known() {
		c.fault(c.form.Stage.line, "stage %q is none of routine, before, after", c.form.Stage.text)
	}
	return stage
}

func (c *check) methods(engine Layout) map[int]string {
	methods := map[int]string{}
	for _, key := range slices.Sorted(maps.Keys(c.form.Methods)) {
		words := c.form.Methods[key]
		line := words.line
		if line == 0 {
			line = c.form.lines["methods"]
		}
		cylinder := c.count(scalar{key, line}, line, "cylinder", engine.Cylinders)
		if _, twice := methods[cylinder]; twice && cylinder > 0 { // as 1 and 01
			c.fault(line, "cylinder %d stands twice among the methods", cylinder)
		}
		if words.text == "" {
			c.fault(line, "cylinder %s has no method: name it or take the line out", key)
		}
		methods[cylinder] = words.text
	}
	return methods
}

func (c *check) photos(engine Layout) []Photo {
	if len(c.form.Photos) == 0 {
		c.open(c.form.lines["photos"], "no photo is given to a valve yet: give each its cylinder and valve")
	}
	photos := make([]Photo, 0, len(c.form.Photos))
	first := map[string]int{}
	for _, f := range c.form.Photos {
		p := Photo{
			File: c.file(f), Cylinder: c.count(f.Cylinder, f.line, "cylinder", engine.Cylinders), LeftOut: c.leftOut(f),
		}
		if line, twice := first[p.File]; twice && p.File != "" {
			c.fault(
				f.File.line,
				"photo %q was assigned before, in line %d; one that shows several valves of a cylinder has one entry with valves: [1, 2], from left to right",
				p.File,
				line,
			)
		}
		first[p.File] = f.File.line
		valves := c.valves(f, engine.Valves)
		for n, valve := range valves {
			if p.Valve = valve; len(valves) > 1 {
				p.FromLeft = n + 1
			}
			photos = append(photos, p)
		}
	}
	return photos
}

// valves reads which valves a photo shows, from left to right: one, or a list.
func (c *check) valves(f photoForm, most int) []int {
	if len(f.Valves) == 0 {
		return []int{c.count(f.Valve, f.line, "valve", most)}
	}
	if f.Valve.text != "" {
		c.fault(f.Valve.line, "valve and valves both stand here: one photo shows one or several")
	}
	var numbers []int
	for _, s := range f.Valves {
		n := c.count(s, f.line, "valve", most)
		if n > 0 && slices.Contains(numbers, n) {
			c.fault(s.line, "valve %d stands twice in valves", n)
		}
		numbers = append(numbers, n)
	}
	return numbers
}

// file returns the cleaned name of a photo, which must lie in the folder or below: an inspection can be moved as a
// whole.
func (c *check) file(f photoForm) string {
	if f.File.text == "" {
		c.fault(max(f.File.line, f.line), "file is missing: name the photo")
		return ""
	}
	name := path.Clean(f.File.text)
	if !fs.ValidPath(name) || name == "." {
		c.fault(f.File.line, "photo %q is not inside the folder", f.File.text)
	}
	return name
}
