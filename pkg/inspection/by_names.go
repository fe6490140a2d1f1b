package inspection

import (
	"fmt"
	"path/filepath"
	"slices"
	"strings"
)

// byNames returns the places that the names of photos in one folder or in two tell, without the photos whose place is not
// clear, and the words for it. Photos of a cylinder of which no name in their folder tells a valve are its valves one by one.
func byNames(names [][]place) (places [][]Photo, how string, err error) {
	told := highest(names)
	said, err := numberAlone(names)
	if err != nil {
		return nil, "", err
	}
	places = make([][]Photo, len(names))
	for n := range names {
		for _, p := range names[n] {
			if p.valve > 0 {
				places[n] = append(places[n], Photo{File: p.file, Cylinder: p.cylinder, Valve: p.valve})
			}
		}
	}
	switch {
	case len(said) == 0 || told == 0 && highest(names) == 1:
		return places, "cylinders and valves are those of the file names", nil
	case len(names) == 2:
		how = "names tell only the cylinder, and each photo of it is taken for a valve of its own, the same in both folders by " +
			"the order of names, or by its name where one has fewer"
	default:
		how = "names tell only the cylinder, and each photo of it is taken for a valve of its own, numbered in the order of names"
	}
	return places, how + "; cylinder " + strings.Join(said, ", "), nil
}

// highest is the highest valve that is known so far, 0 for none.
func highest(names [][]place) (valve int) {
	for _, p := range slices.Concat(names...) {
		valve = max(valve, p.valve)
	}
	return valve
}

// numberAlone numbers the valves of cylinders that nothing else is known of, and says which photo is the first of each.
func numberAlone(names [][]place) (said []string, err error) {
	open := make([]map[int][]*place, len(names))
	for n := range names {
		open[n] = alone(names[n])
	}
	for cylinder := 1; cylinder <= MostCylinders; cylinder++ {
		var folders [][]*place
		for n := range names {
			if members := open[n][cylinder]; members != nil {
				folders = append(folders, members)
			}
		}
		if err := inStep(folders); err != nil {
			return nil, fmt.Errorf("cylinder %d: %w", cylinder, err)
		}
		photos := slices.Concat(folders...)
		slices.SortStableFunc(photos, func(a, b *place) int { return a.valve - b.valve })
		for _, p := range slices.CompactFunc(photos, func(a, b *place) bool { return a.valve == b.valve }) {
			said = append(said, fmt.Sprintf("%d valve %d is %s", cylinder, p.valve, filepath.ToSlash(p.file)))
		}
	}
	return said, nil
}

// inStep is inOrder for the photos of one cylinder in each folder that has any: of the same valves where two have as many,
// else of those that the names of the one have in the other.
func inStep(folders [][]*place) error {
	var sum, most int // valves
	even := true
	for n, members := range folders {
		valves := inOrder(members)
		even = even && (n == 0 || valves == most)
		sum, most = sum+valves, max(most, valves)
	}
	if !even {
		if most = inOrder(slices.Concat(folders...)); most == sum {
			return fmt.Errorf("%w: %d and %d, with names that have nothing in common", ErrPlaces, len(folders[0]), len(folders[1]))
		}
	}
	if most > MostValves {
		return fmt.Errorf("%w: %d photos, and at most %d can be numbered without a form", ErrPlaces, most, MostValves)
	}
	return nil
}
