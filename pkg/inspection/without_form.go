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

// leftOut says which photos of the folder, and of its folders, do not count; none for none.
func (p Plain) leftOut(placed []Photo) (said []string) {
	if names := p.first(p.Elsewhere); names != "" {
		said = append(said, fmt.Sprintf("left out, as their folders are named for no cylinder: %s", names))
	}
	unclear := slices.DeleteFunc(slices.Clone(p.Files), func(file string) bool {
		return slices.ContainsFunc(placed, func(photo Photo) bool { return photo.File == file })
	})
	if names := p.first(unclear); names != "" {
		said = append(said, fmt.Sprintf("left out, as their names do not tell which valve they show: %s", names))
	}
	return said
}

// first names the first of some files.
func (p Plain) first(files []string) string {
	var names []string
	for _, file := range files[:min(mostTold, len(files))] {
		names = append(names, path.Join(filepath.Base(p.Dir), filepath.ToSlash(file)))
	}
	if len(files) > mostTold {
		names = append(names, "...")
	}
	return strings.Join(names, ", ")
}

// Unnamed stands for a vehicle that nobody named.
const Unnamed = "vehicle without a name"

// ErrPlaces is returned where names and numbers of photos do not tell which of them belong together.
var ErrPlaces = errors.New("it is not clear which photos belong together")

// Assume makes inspections of plain photos: of one folder, or of two, taken for before and after a cleaning. Where each
// folder has names that tell their cylinder, places are those of the names, as Draft finds them; photos of a cylinder
// alone are numbered even where they may be repeats, and left out are those whose place stays open. Else photos of one name,
// or else of one place in the order of names, are taken for one valve: the one that the names in the other folder tell, if
// they do of all photos, or one that gets a number. What was assumed stands in the Assumed of the first, and what is left
// out of a folder in that of its inspection. taken returns when a photo was taken, nil when its file does not say. valves
// returns how many valves a photo shows, 0 for none that can be judged; it is asked of photos whose names tell no valve,
// and nil takes each for one of one valve. Errors are ErrPlaces.
func Assume(
	folders []Plain, taken func(path string) *time.Time, valves func(path string) int,
) ([]*Inspection, error) {
	folders = slices.Clone(folders)
	for n, folder := range folders {
		folders[n].Files = slices.SortedStableFunc(slices.Values(folder.Files), compareStems)
	}
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
		inspections[n].Assumed = append(inspections[n].Assumed, folder.leftOut(places[n])...)
	}
	return inspections, nil
}

// assumePlaces gives every photo of the folders a cylinder and a valve, and says by what.
func assumePlaces(folders []Plain) (places [][]Photo, assumed []string, err error) {
	if len(folders) == 2 {
		assumed = append(assumed,
			"taken for one engine before and after a cleaning, as the order says: there is no "+File+" to tell")
	}
	names := make([][]place, len(folders))
	tells := true
	for n, folder := range folders {
		names[n] = told(folder.Files, nil)
		tells = tells && slices.ContainsFunc(names[n], func(p place) bool { return p.cylinder > 0 })
	}
	switch {
	case len(folders) == 2 && folders[0].Alone && folders[1].Alone:
		places, how := oneValve(names[0][0], names[1][0])
		return places, append(assumed, how), nil
	case tells:
		places, how, err := byNames(names)
		return places, append(assumed, how), err
	case len(folders) == 1 && len(folders[0].Files) == 1:
		return [][]Photo{{{File: folders[0].Files[0], Cylinder: 1, Valve: 1}}}, nil, nil
	}
	places, how, err := byPartners(folders, names)
	return places, append(assumed, how...), err
}

// oneValve takes two photos for one valve: that of the file names where these tell one, else the first of all.
func oneValve(before, after place) (places [][]Photo, how string) {
	differ := func(a, b int) bool { return a != 0 && b != 0 && a != b }
	cylinder, valve := cmp.Or(before.cylinder, after.cylinder), cmp.Or(before.valve, after.valve)
	switch {
	case differ(before.cylinder, after.cylinder) || differ(before.valve, after.valve):
		cylinder, valve = 1, 1 // which of the two is not known
		fallthrough
	case cylinder == 0:
		how = "both photos are taken for one valve"
	default:
		how = "both photos are taken for one valve, that of the file names"
	}
	for _, p := range []place{before, after} {
		places = append(places, []Photo{{File: p.file, Cylinder: max(1, cylinder), Valve: max(1, valve)}})
	}
	return places, how
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
