package inspection

import (
	"fmt"
	"path"
	"slices"
)

// inFull takes photos of a cylinder whose names tell no valve for all valves in them, from left to right, where each of
// them shows as many; and says so. Where they differ the largest valve of each counts. It changes the
// places of the folders' photos.
func inFull(folders []Plain, places [][]Photo, valves func(path string) int) (assumed []string) {
	byName := map[string]bool{} // by path
	for _, folder := range folders {
		for k, found := range told(folder.Files, nil) {
			byName[folder.path(folder.Files[k])] = found.valve != 0
		}
	}
	seen := map[int]inView{} // by cylinder
	for n, folder := range folders {
		for _, p := range places[n] {
			if byName[folder.path(p.File)] {
				seen[p.Cylinder] = inView{told: true}
			} else if so := seen[p.Cylinder]; !so.told {
				seen[p.Cylinder] = so.and(path.Base(p.File), valves(folder.path(p.File)))
			}
		}
	}
	several := false
	for n := range places {
		var full []Photo
		for _, p := range places[n] {
			count := seen[p.Cylinder].all()
			if count < 2 {
				full = append(full, p)
				continue
			}
			several = true
			for k := range count {
				full = append(full, Photo{File: p.File, Cylinder: p.Cylinder, Valve: k + 1, FromLeft: k + 1})
			}
		}
		places[n] = full
	}
	if several {
		assumed = append(assumed, "where photos show several valves, these are taken for those of a cylinder, in one order from left to right")
	}
	for _, p := range slices.Concat(places...) {
		differ := seen[p.Cylinder].differ
		if differ != "" && !slices.Contains(assumed, differ) {
			assumed = append(assumed, differ)
		}
	}
	return assumed
}

// inView is how many valves the photos of a cylinder show.
type inView struct {
	// told is true where the name of a photo says which valve it is of.
	told bool
	// file is the first photo that shows any, with this count; one that cannot be judged tells nothing.
	file  string
	count int
	// differ says of which photos the counts do, "" for none.
	differ string
}

func (v inView) and(file string, count int) inView {
	switch {
	case v.count == 0:
		v.file, v.count = file, count
	case count != 0 && count != v.count && v.differ == "":
		v.differ = fmt.Sprintf("%s and %s show %d and %d valves: the largest of each counts", v.file, file, v.count, count)
	}
	return v
}

// all is how many valves the photos show, if all show as many.
func (v inView) all() int {
	if v.told || v.differ != "" || v.count > MostValves {
		return 1
	}
	return v.count
}
