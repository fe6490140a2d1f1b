package inspection

import (
	"fmt"
	"path"
	"slices"
	"strings"
)

// byPartners returns the places of photos where the names in a folder tell none, and the words for it. Photos that are
// taken for one valve are where the names in the other folder say, if these tell the places of all; else each valve is
// taken for that of a cylinder of its own.
func byPartners(folders []Plain, names [][]place) (places [][]Photo, how []string, err error) {
	keys, why, err := partners(folders)
	if err != nil {
		return nil, nil, err
	}
	at, err := toldFor(keys, names)
	if err != nil {
		return nil, nil, err
	}
	var numbered []string
	places = make([][]Photo, len(folders))
	for n, folder := range folders {
		for k, file := range folder.Files {
			found, known := at[keys[n][k]]
			if !known {
				found = Place{len(at) + 1, 1}
				at[keys[n][k]] = found
				numbered = append(numbered, fmt.Sprintf("%d is %s", found.Cylinder, path.Base(file)))
			}
			places[n] = append(places[n], Photo{File: file, Cylinder: found.Cylinder, Valve: found.Valve})
		}
	}
	switch len(numbered) {
	case 0:
		return places, []string{why, "cylinders and valves are those of the file names"}, nil
	case 1:
		return places, []string{why}, nil
	}
	return places, []string{why + "; cylinder " + strings.Join(numbered, ", ")}, nil
}

// toldFor returns the places that names tell, by the keys of their photos: of every key, or of none.
func toldFor(keys [][]string, names [][]place) (map[string]Place, error) {
	if _, err := numberAlone(names); err != nil {
		return nil, err
	}
	at := map[string]Place{}
	for n := range names {
		for k, p := range names[n] {
			if p.valve > 0 {
				at[keys[n][k]] = Place{p.cylinder, p.valve}
			}
		}
	}
	for _, key := range slices.Concat(keys...) {
		if _, told := at[key]; !told {
			return map[string]Place{}, nil
		}
	}
	return at, nil
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
			keys[n] = append(keys[n], stem(file))
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
