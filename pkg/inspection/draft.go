package inspection

import (
	"bytes"
	_ "embed"
	"fmt"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"sync"
	"text/template"
	"time"
)

// DraftOptions steer Draft. The zero value is right for most folders.
type DraftOptions struct {
	// Pattern finds cylinder and valve in file names; nil tries the usual ways of naming.
	Pattern *Pattern
	// Order are the valves in the order in which they were photographed, Each photos of each; the files must be in the
	// order of shooting then (SortShots), and their names tell nothing. Nil goes by the names.
	Order []Place
	Each  int
	// Engine is what is known of the engine, 0 for what the names have to tell.
	Engine Layout
	// Valves returns how many valves can be told apart in a photo whose name tells its cylinder alone; nil looks at
	// none.
	Valves func(path string) int
	// Taken returns when a photo was taken, nil when its file does not say; nil asks nobody, and the date is left open.
	Taken func(path string) *time.Time
}

//go:embed draft.yaml.tmpl
var draftText string

var draftTemplate = sync.OnceValue(func() *template.Template {
	return template.Must(template.New(File).Funcs(template.FuncMap{"quote": strconv.Quote}).Parse(draftText))
})

// Proposal is an inspection.yaml for a folder that has none, and what it was guessed from.
type Proposal struct {
	// Text is the file's content.
	Text []byte
	// Vehicle is the folder's name, or where that is a Stage, such as van 7/after, the name of the folder around it: of a
	// cleaning both inspections are of one vehicle. Engine is the highest cylinder and valve of the file names, or of what
	// the photos show of a cylinder; 0 when none tells.
	Vehicle string
	Stage   Stage
	Engine  Layout
	// Seen is true when no name tells the highest valve, so that Engine.Valves is by what the photos show; Counted when it is
	// by how many photos there are of each cylinder.
	Seen, Counted bool
	// Ordered is true when the places are by the order of shooting.
	Ordered bool
	// First and Last are the days of the first and the last photo, YYYY-MM-DD, "" when no photo says. The last was
	// taken for the date.
	First, Last string
	// Placed are the photos whose names tell cylinder and valve, or that show all valves of the cylinder, in the order
	// of the engine; Unplaced are the others, which stand in Text as comments.
	Placed   []Photo
	Unplaced []Unplaced
	// Ranked are the files among Placed that were given to the valves of the cylinder in the order of names, as each may
	// show another: nothing tells so.
	Ranked []string
}

// Unplaced is a photo of which it is not clear which valve it shows.
type Unplaced struct {
	File string
	// Cylinder is what the name tells, 0 for nothing. Shows is how many valves were seen in the photo, nil where nobody
	// looked. Beside is how many other photos there are of the cylinder.
	Cylinder int
	Shows    *int
	Beside   int
}

// Entry is a photo as it stands in the file, with the valves that it shows from left to right.
type Entry struct {
	File     string
	Cylinder int
	Valves   []int
	// LeftOut is nil for a photo that counts.
	LeftOut *LeftOut
}

// IsRanked reports whether a file is one of Ranked.
func (p *Proposal) IsRanked(file string) bool { return slices.Contains(p.Ranked, file) }

// List is how several valves are written, "" for one.
func (e Entry) List() string {
	if len(e.Valves) == 1 {
		return ""
	}
	return strings.ReplaceAll(fmt.Sprint(e.Valves), " ", ", ")
}

// Entries are the placed photos, each once.
func (p *Proposal) Entries() []Entry {
	var entries []Entry
	place := map[string]int{}
	for _, photo := range p.Placed {
		n, known := place[photo.File]
		if !known {
			n = len(entries)
			place[photo.File], entries = n, append(entries, Entry{File: photo.File, Cylinder: photo.Cylinder})
		}
		entries[n].Valves = append(entries[n].Valves, photo.Valve)
	}
	return entries
}

// Draft proposes an inspection.yaml for the photos of a folder, given relative to it. What can be guessed from names
// and capture times is filled in, what cannot is left open with a word on what to write: Load will name each by its
// line. Photos whose place is not clear stand at the end as comments.
func Draft(dir string, files []string, o DraftOptions) (*Proposal, error) {
	absolute, err := filepath.Abs(dir)
	if err != nil {
		return nil, err
	}
	p := &Proposal{Vehicle: filepath.Base(absolute), Stage: Routine}
	if stage, told := stageNames[strings.ToLower(p.Vehicle)]; told {
		p.Stage, p.Vehicle = stage, filepath.Base(filepath.Dir(absolute))
	}
	if o.Order != nil {
		if err := p.deal(files, o); err != nil {
			return nil, err
		}
	} else {
		p.guess(dir, files, o)
	}
	highest := func(told func(Photo) bool) bool {
		return slices.ContainsFunc(p.Placed, func(placed Photo) bool { return placed.Valve == p.Engine.Valves && told(placed) })
	}
	byName := highest(func(placed Photo) bool { return placed.FromLeft == 0 && !p.IsRanked(placed.File) })
	p.Seen = !byName && highest(func(placed Photo) bool { return placed.FromLeft > 0 })
	p.Counted = !byName && !p.Seen && len(p.Ranked) > 0
	sortPhotos(p.Placed)
	if o.Taken != nil {
		p.date(dir, files, o.Taken)
	}
	var text bytes.Buffer
	if err := draftTemplate().Execute(&text, p); err != nil {
		return nil, err
	}
	p.Text = text.Bytes()
	return p, nil
}

// stageNames are names of folders that tell a stage, in the languages of the program.
var stageNames = map[string]Stage{"before": Before, "after": After, "vorher": Before, "nachher": After}

// deal places the photos in the order of shooting.
func (p *Proposal) deal(files []string, o DraftOptions) error {
	p.Ordered = true
	entries, err := Deal(files, o.Order, o.Each)
	if err != nil {
		return err
	}
	for _, e := range entries {
		p.Placed = append(p.Placed, Photo{File: filepath.ToSlash(e.File), Cylinder: e.Cylinder, Valve: e.Valves[0]})
	}
	for _, place := range o.Order {
		p.Engine = Layout{max(p.Engine.Cylinders, place.Cylinder), max(p.Engine.Valves, place.Valve)}
	}
	return nil
}

// guess places the photos by their names and what they show.
func (p *Proposal) guess(dir string, files []string, o DraftOptions) {
	places := guess(dir, files, o)
	of := map[int]int{} // photos of each cylinder
	for _, found := range places {
		of[found.cylinder]++
	}
	for i, found := range places {
		photo := Photo{File: filepath.ToSlash(files[i]), Cylinder: found.cylinder, Valve: found.valve}
		// A name that tells its cylinder alone says that the engine has it, whichever valve the photo shows.
		p.Engine.Cylinders = max(p.Engine.Cylinders, found.cylinder)
		if found.cylinder == 0 || found.valve == 0 && found.all == 0 {
			u := Unplaced{File: photo.File, Cylinder: photo.Cylinder, Shows: found.shows}
			if u.Cylinder > 0 {
				u.Beside = of[u.Cylinder] - 1
			}
			p.Unplaced = append(p.Unplaced, u)
			continue
		}
		if found.ranked {
			p.Ranked = append(p.Ranked, photo.File)
		}
		p.Engine.Valves = max(p.Engine.Valves, found.valve, found.all)
		if found.all == 0 {
			p.Placed = append(p.Placed, photo)
			continue
		}
		for n := range found.all {
			photo.Valve, photo.FromLeft = n+1, n+1
			p.Placed = append(p.Placed, photo)
		}
	}
}

// date finds the days of the first and the last photo.
func (p *Proposal) date(dir string, files []string, taken func(string) *time.Time) {
	for _, file := range files {
		when := taken(filepath.Join(dir, file))
		if when == nil {
			continue
		}
		day := when.Format(time.DateOnly)
		if p.First == "" || day < p.First {
			p.First = day
		}
		p.Last = max(p.Last, day)
	}
}
