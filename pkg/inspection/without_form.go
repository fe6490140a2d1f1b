package inspection

import (
	"cmp"
	"errors"
	"fmt"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"time"
)

// Plain are photos that nobody wrote an inspection.yaml for: files in a folder, with names relative to it.
type Plain struct {
	Dir   string
	Files []string
	// Alone is true for one photo that was named itself, and not by its folder.
	Alone bool
	// Elsewhere are photos in folders of the folder that are not among the files.
	Elsewhere []string
}

func (p Plain) path(file string) string { return filepath.Join(p.Dir, filepath.FromSlash(file)) }

// mostTold is how many photos are told by name in a sentence.
const mostTold = 3

// leftOut says which photos in folders of the folder do not count; none for none.
func (p Plain) leftOut() []string {
	if len(p.Elsewhere) == 0 {
		return nil
	}
	var names []string
	for _, name := range p.Elsewhere[:min(mostTold, len(p.Elsewhere))] {
		names = append(names, path.Join(filepath.Base(p.Dir), name))
	}
	if len(p.Elsewhere) > mostTold {
		names = append(names, "...")
	}
	return []string{fmt.Sprintf("left out, as their folders are named for no cylinder: %s", strings.Join(names, ", "))}
}

// Unnamed stands for a vehicle that nobody named.
const Unnamed = "vehicle without a name"

// ErrPlaces is returned where names and numbers of photos do not tell which of them belong together.
var ErrPlaces = errors.New("it is not clear which photos belong together")

// Assume makes inspections of plain photos: of one folder, or of two, taken for before and after a cleaning. Cylinder
// and valve are those of the file names where all tell them; else photos of one name, or else of one place in the order
// of names, are taken for one valve, which gets a number. What was assumed stands in the Assumed of the first, and what is
// left out of a folder in that of its inspection. taken returns when a photo was taken, nil when its file does not say.
// valves returns how many valves a photo shows, 0 for none that can be judged; it is asked of photos whose names tell no
// valve, and nil takes each for one of one valve.
func Assume(
	folders []Plain, taken func(path string) *time.Time, valves func(path string) int,
) ([]*Inspection, error) {
	places, assumed, err := assumePlaces(folders)
	if err != nil {
		return nil, err
	}
	if valves != nil {
		assumed = append(assumed, inFull(folders, places, valves)...)
	}
	var layout Layout
	var heard []Place
	for _, p := range slices.Concat(places...) {
		layout.Cylinders, layout.Valves = max(layout.Cylinders, p.Cylinder), max(layout.Valves, p.Valve)
		heard = append(heard, Place{p.Cylinder, p.Valve})
	}
	slices.SortFunc(heard, func(a, b Place) int { return cmp.Or(a.Cylinder-b.Cylinder, a.Valve-b.Valve) })
	heard = slices.Compact(heard)
	if layout.Cylinders > MostCylinders {
		return nil, fmt.Errorf("%w: %d photos, and at most %d can be numbered without a form",
			ErrPlaces, layout.Cylinders, MostCylinders)
	}
	inspections := make([]*Inspection, len(folders))
	for n, folder := range folders {
		i := &Inspection{Dir: folder.Dir, Vehicle: Unnamed, Engine: layout, Stage: Routine, Photos: places[n], Heard: heard}
		if len(folders) == 2 {
			i.Stage = [...]Stage{Before, After}[n]
		}
		sortPhotos(i.Photos)
		i.Date = lastDay(i.Paths(), taken)
		inspections[n] = i
	}
	inspections[0].Assumed = assumed
	for n, folder := range folders {
		inspections[n].Assumed = append(inspections[n].Assumed, folder.leftOut()...)
	}
	return inspections, nil
}

// assumePlaces gives every photo of the folders a cylinder and a valve, and says by what.
func assumePlaces(folders []Plain) (places [][]Photo, assumed []string, err error) {
	if len(folders) == 2 {
		assumed = append(assumed,
			"taken for one engine before and after a cleaning, as the order says: there is no "+File+" to tell")
	}
	alone := len(folders) == 2 && folders[0].Alone && folders[1].Alone
	if alone {
		places, how := oneValve(folders[0].Files[0], folders[1].Files[0], byName(folders[0])[0], byName(folders[1])[0])
		return places, append(assumed, how), nil
	}
	if places := byNames(folders); places != nil {
		return places, append(assumed, "cylinders and valves are those of the file names"), nil
	}
	if places, how, err := byCylinders(folders); places != nil || err != nil {
		return places, append(assumed, how), err
	}
	if len(folders) == 1 && len(folders[0].Files) == 1 {
		return [][]Photo{{{File: folders[0].Files[0], Cylinder: 1, Valve: 1}}}, nil, nil
	}
	keys, how, err := partners(folders)
	if err != nil {
		return nil, nil, err
	}
	var told []string
	numbers := map[string]int{}
	places = make([][]Photo, len(folders))
	for n, folder := range folders {
		for k, file := range folder.Files {
			key := keys[n][k]
			if numbers[key] == 0 {
				numbers[key] = len(numbers) + 1
				told = append(told, fmt.Sprintf("%d is %s", numbers[key], path.Base(file)))
			}
			places[n] = append(places[n], Photo{File: file, Cylinder: numbers[key], Valve: 1})
		}
	}
	if len(told) > 1 {
		how += "; cylinder " + strings.Join(told, ", ")
	}
	return places, append(assumed, how), nil
}

// byNames returns the places that the file names tell, nil unless all do.
func byNames(folders []Plain) [][]Photo {
	places := make([][]Photo, len(folders))
	for n, folder := range folders {
		for k, found := range byName(folder) {
			if found.cylinder == 0 || found.valve == 0 || found.ranked {
				return nil
			}
			places[n] = append(places[n], Photo{File: folder.Files[k], Cylinder: found.cylinder, Valve: found.valve})
		}
	}
	return places
}

func byName(folder Plain) []place { return guess(folder.Dir, folder.Files, DraftOptions{}) }

// oneValve takes two photos for one valve: that of the file names where these tell one, else the first of all.
func oneValve(before, after string, first, second place) (places [][]Photo, how string) {
	differ := func(a, b int) bool { return a != 0 && b != 0 && a != b }
	cylinder, valve := cmp.Or(first.cylinder, second.cylinder), cmp.Or(first.valve, second.valve)
	switch {
	case differ(first.cylinder, second.cylinder) || differ(first.valve, second.valve):
		cylinder, valve = 1, 1 // which of the two is not known
		fallthrough
	case cylinder == 0:
		how = "both photos are taken for one valve"
	default:
		how = "both photos are taken for one valve, that of the file names"
	}
	for _, file := range []string{before, after} {
		places = append(places, []Photo{{File: file, Cylinder: max(1, cylinder), Valve: max(1, valve)}})
	}
	return places, how
}

// partners returns a key for each photo, the same for those that are taken for one valve, and the words for why.
func partners(folders []Plain) (keys [][]string, how string, err error) {
	inOrder := func() [][]string {
		keys := make([][]string, len(folders))
		for n, folder := range folders {
			for k := range folder.Files {
				keys[n] = append(keys[n], fmt.Sprint(k))
			}
		}
		return keys
	}
	if len(folders) == 1 {
		return inOrder(), "each photo is taken for a valve of its own, numbered in the order of names", nil
	}
	keys = make([][]string, len(folders))
	for n, folder := range folders {
		for _, file := range folder.Files {
			name := filepath.ToSlash(file)
			keys[n] = append(keys[n], strings.ToLower(strings.TrimSuffix(name, path.Ext(name))))
		}
	}
	shared := func(key string) bool { return slices.Contains(keys[1], key) }
	switch {
	case slices.ContainsFunc(keys[0], shared):
		return keys, "photos of one name are taken for one valve", nil
	case len(folders[0].Files) == len(folders[1].Files):
		return inOrder(), "the first photo of each folder, in the order of names, is taken for one valve, the second " +
			"for the next, and so on", nil
	}
	return nil, "", fmt.Errorf("%w: %d and %d, with names that have nothing in common",
		ErrPlaces, len(folders[0].Files), len(folders[1].Files))
}

// lastDay is the day of the last photo, the zero time when none says.
func lastDay(paths []string, taken func(path string) *time.Time) time.Time {
	var last time.Time
	for _, path := range paths {
		if when := taken(path); when != nil && when.After(last) {
			last = time.Date(when.Year(), when.Month(), when.Day(), 0, 0, 0, 0, time.UTC)
		}
	}
	return last
}
