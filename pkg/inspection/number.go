package inspection

import (
	"path"
	"path/filepath"
	"slices"
	"strings"
)

// alone returns the photos of each cylinder of which no photo is known to show any certain valve.
func alone(places []place) map[int][]*place {
	open := map[int][]*place{}
	for i := range places {
		if p := &places[i]; p.cylinder > 0 {
			open[p.cylinder] = append(open[p.cylinder], p)
		}
	}
	for cylinder, members := range open {
		if slices.ContainsFunc(members, func(p *place) bool { return p.valve > 0 || p.all > 0 }) {
			delete(open, cylinder)
		}
	}
	return open
}

// inOrder gives photos of one cylinder to its valves in the order of names, those of one stem to one, and returns how many
// valves that makes.
func inOrder(members []*place) (valves int) {
	slices.SortStableFunc(members, func(a, b *place) int { return compareStems(a.file, b.file) })
	numbers := map[string]int{}
	for _, p := range members {
		if numbers[stem(p.file)] == 0 {
			numbers[stem(p.file)] = len(numbers) + 1
		}
		p.valve = numbers[stem(p.file)]
	}
	return len(numbers)
}

// stem is the name that a picture has in every format: without extension, and in small letters.
func stem(file string) string {
	name := filepath.ToSlash(file)
	return strings.ToLower(strings.TrimSuffix(name, path.Ext(name)))
}

// compareStems is CompareNames of what two files are called in every format.
func compareStems(a, b string) int { return CompareNames(stem(a), stem(b)) }
