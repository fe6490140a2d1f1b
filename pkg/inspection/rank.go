package inspection

import (
	"path"
	"strings"
)

// usualValves is how many photos of each cylinder are taken for its valves where nothing else tells how many it has: most
// direct-injection engines have two intake valves a cylinder (common practice), and three photos are rather repeats.
const usualValves = 2

// rank gives photos of which nothing but the cylinder is known to its valves in the order of names, where the cylinder has
// one photo for each of them: most valves, by what is known so far. Where no more than one is known of, the photos tell how
// many there are, if each cylinder has one photo, or each has two. Photos that may be of one valve are left open.
func rank(places []place, most int) {
	open := alone(places)
	each := most
	if most <= 1 {
		for _, members := range open {
			if each = len(members); each > usualValves {
				return
			}
			break
		}
		for _, members := range open {
			if len(members) != each {
				return
			}
		}
	}
	for _, members := range open {
		if len(members) != each || each > 1 && !apart(members) {
			continue
		}
		inOrder(members)
		for _, p := range members {
			p.ranked = each > 1
		}
	}
}

// apart reports whether photos of a cylinder may each show another valve: each shows one that can be judged, as far as
// somebody looked, and their names are neither of one picture in two formats nor of two stages.
func apart(members []*place) bool {
	seen := map[string]bool{}
	for _, p := range members {
		name := stem(p.file)
		if p.shows != nil && *p.shows != 1 || seen[name] {
			return false
		}
		seen[name] = true
		for word := range stageNames {
			if strings.Contains(path.Base(name), word) {
				return false
			}
		}
	}
	return true
}
