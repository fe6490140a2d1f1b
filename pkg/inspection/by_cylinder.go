package inspection

import (
	"fmt"
	"maps"
	"path/filepath"
	"slices"
	"strings"
)

// byCylinders returns the places of photos whose names all tell their cylinder, and for some of the cylinders nothing else:
// photos of such a cylinder are taken for its valves one by one, those of two folders that are partners for one valve. It
// returns nil where names tell less, or tell the valve of some photos of a cylinder alone. how says what was assumed, and of
// which photos.
func byCylinders(folders []Plain) (places [][]Photo, how string, err error) {
	byValve := map[int]bool{} // whether the names tell the valves of a cylinder
	names := make([][]place, len(folders))
	for n, folder := range folders {
		names[n] = told(folder.Files, nil)
		for _, found := range names[n] {
			if valve, known := byValve[found.cylinder]; found.cylinder == 0 || known && valve != (found.valve > 0) {
				return nil, "", nil
			}
			byValve[found.cylinder] = found.valve > 0
		}
	}
	valves := make([]map[string]int, len(folders)) // of the photos whose names do not tell it
	for n := range folders {
		valves[n] = map[string]int{}
	}
	var said []string
	for _, cylinder := range slices.Sorted(maps.Keys(byValve)) {
		if byValve[cylinder] {
			continue
		}
		first, err := numberValves(ofCylinder(folders, names, cylinder), valves)
		if err != nil {
			return nil, "", fmt.Errorf("cylinder %d: %w", cylinder, err)
		}
		for n, file := range first {
			said = append(said, fmt.Sprintf("%d valve %d is %s", cylinder, n+1, filepath.ToSlash(file)))
		}
	}
	places = make([][]Photo, len(folders))
	for n, folder := range folders {
		for k, file := range folder.Files {
			p := Photo{File: file, Cylinder: names[n][k].cylinder, Valve: names[n][k].valve}
			if p.Valve == 0 {
				p.Valve = valves[n][file]
			}
			places[n] = append(places[n], p)
		}
	}
	how = "names tell only the cylinder, and each photo of it is taken for a valve of its own, numbered in the order of names"
	if len(folders) == 2 {
		how = "names tell only the cylinder, and each photo of it is taken for a valve of its own, the same in both folders by " +
			"its name or else by the order of names"
	}
	return places, how + "; cylinder " + strings.Join(said, ", "), nil
}

// ofCylinder are the folders with their photos of one cylinder alone, in the order of names.
func ofCylinder(folders []Plain, names [][]place, cylinder int) []Plain {
	parts := make([]Plain, len(folders))
	for n, folder := range folders {
		parts[n].Dir = folder.Dir
		for k, file := range folder.Files {
			if names[n][k].cylinder == cylinder {
				parts[n].Files = append(parts[n].Files, file)
			}
		}
		slices.SortFunc(parts[n].Files, CompareNames)
	}
	return parts
}

// numberValves numbers the valves of a cylinder by its photos in the folders, and returns the first photo of each.
func numberValves(folders []Plain, valves []map[string]int) (first []string, err error) {
	inBoth := !slices.ContainsFunc(folders, func(p Plain) bool { return len(p.Files) == 0 })
	numbers := map[string]int{}
	for n, folder := range folders {
		together := folders
		if !inBoth {
			together = []Plain{folder}
		}
		keys, _, err := partners(together)
		if err != nil {
			return nil, err
		}
		for k, file := range folder.Files {
			key := keys[min(n, len(keys)-1)][k]
			if numbers[key] == 0 {
				first = append(first, file)
				numbers[key] = len(first)
			}
			valves[n][file] = numbers[key]
		}
	}
	if len(first) > MostValves {
		return nil, fmt.Errorf("%w: %d photos, and at most %d can be numbered without a form",
			ErrPlaces, len(first), MostValves)
	}
	return first, nil
}
