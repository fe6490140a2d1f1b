package inspection

import (
	"path"
	"path/filepath"
	"strings"
)

// place is what the name of a file says; a number that it does not say is 0. all is how many valves the photo shows where
// they are all that the cylinder has, else 0; shows what the photo was seen to show, nil where nobody looked. ranked is
// true where the valve is that of the photo's place among those of its cylinder.
type place struct {
	file                 string
	cylinder, valve, all int
	shows                *int
	ranked               bool
}

// guess returns the place of each file, in order, by the pattern or, when it is nil, by the usual ways of naming. Names
// that tell only the cylinder mean all its valves where the photo shows as many as the engine is known to have, else as
// the names tell of, or the photos themselves where no name tells of a second valve; the valves one by one where the
// cylinder has as many photos (rank); and valve 1 where nothing tells of more.
func guess(dir string, files []string, o DraftOptions) []place {
	places := told(files, o.Pattern)
	named := 0
	for _, p := range places {
		named = max(named, p.valve)
	}
	most := max(named, o.Engine.Valves)
	for i := range places {
		p := &places[i]
		if p.cylinder > 0 && p.valve == 0 && o.Valves != nil {
			if p.shows = new(o.Valves(filepath.Join(dir, files[i]))); named < 2 && o.Engine.Valves == 0 { // valve 1 may be the first of two
				most = max(most, min(*p.shows, MostValves))
			}
		}
	}
	for i := range places {
		switch p := &places[i]; {
		case p.cylinder == 0 || p.valve > 0:
		case most > 1 && p.shows != nil && *p.shows == most:
			p.all = most
		case o.Engine.Valves == 1 && most == 1:
			p.valve = 1
		}
	}
	if named > 0 && most == 1 { // valve 1 may be the first of two
		return places
	}
	rank(places, most)
	return places
}

// told returns what the names of files, or of their folders, tell.
func told(files []string, pattern *Pattern) []place {
	patterns := usual
	if pattern != nil {
		patterns = []*Pattern{pattern}
	}
	places := make([]place, len(files))
	for i, file := range files {
		for _, p := range patterns {
			if found, ok := p.placeBelow(filepath.ToSlash(file)); ok {
				places[i] = found
				break
			}
		}
		places[i].file = file
	}
	return places
}

// Named returns the cylinder and the valve that a photo's file name tells in one of the usual ways; a number that it
// does not tell is 0.
func Named(file string) (cylinder, valve int) {
	return named(strings.TrimSuffix(path.Base(file), path.Ext(file)))
}

// NamedFolder is Named for a folder, whose name has no extension: what follows a point in "Zyl. 2" is its number. One of
// figures and points alone is a day's, such as 3.2.
func NamedFolder(name string) (cylinder, valve int) {
	if strings.Trim(name, "0123456789.") == "" {
		return 0, 0
	}
	return named(name)
}

func named(name string) (cylinder, valve int) {
	for _, p := range usual {
		if found, ok := p.in(name); ok {
			return found.cylinder, found.valve
		}
	}
	return 0, 0
}
