package inspection

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"
)

// Place is one valve of an engine.
type Place struct {
	Cylinder int `json:"cylinder"`
	Valve    int `json:"valve"`
}

func (p Place) String() string { return ValveName(p.Cylinder, p.Valve) }

// Places lists the valves of an engine, cylinder 1 first.
func (l Layout) Places() []Place {
	var places []Place
	for c := range l.Cylinders {
		for v := range l.Valves {
			places = append(places, Place{c + 1, v + 1})
		}
	}
	return places
}

// ParseOrder reads the valves in the order in which they were photographed, such as "1.1,1.2,2.1,2.2": cylinder, point,
// valve.
func ParseOrder(text string) ([]Place, error) {
	var order []Place
	for _, word := range strings.FieldsFunc(text, func(r rune) bool { return r == ',' || r == ' ' || r == ';' }) {
		cylinder, valve, _ := strings.Cut(word, ".")
		c, err := strconv.Atoi(cylinder)
		if err != nil || c < 1 || c > MostCylinders {
			return nil, fmt.Errorf("order: %q is no valve: write cylinder, point, valve, such as 2.1", word)
		}
		v, err := strconv.Atoi(valve)
		if err != nil || v < 1 || v > MostValves {
			return nil, fmt.Errorf("order: %q is no valve: write cylinder, point, valve, such as 2.1", word)
		}
		if slices.Contains(order, Place{c, v}) {
			return nil, fmt.Errorf("order: %s stands twice: say how many photos of each valve instead", word)
		}
		order = append(order, Place{c, v})
	}
	if len(order) == 0 {
		return nil, fmt.Errorf("order: no valve given, such as 1.1,1.2,2.1,2.2")
	}
	return order, nil
}

// Deal gives photos, in the order in which they were taken, to valves: the first so many to the first valve, and so on.
// The error says how many photos there should be.
func Deal(files []string, order []Place, each int) ([]Entry, error) {
	if each < 1 {
		return nil, fmt.Errorf("%d photos of each valve: it must be 1 or more", each)
	}
	if most := each * len(order); len(files) > most {
		return nil, fmt.Errorf("%d photos for %d valves with %d each: %d are too many", len(files), len(order), each,
			len(files)-most)
	}
	var entries []Entry
	for n, file := range files {
		place := order[n/each]
		entries = append(entries, Entry{File: file, Cylinder: place.Cylinder, Valves: []int{place.Valve}})
	}
	return entries, nil
}

// Shot is a photo as its file tells when it was taken.
type Shot struct {
	File string
	// Taken is the camera's time, nil when the file does not say; Written is when the file was.
	Taken   *time.Time
	Written time.Time
}

// SortShots puts photos into the order of shooting: by the camera's clock, where no photo tells it by when the files were
// written; of one time by their names, in which numbers count as numbers. Among photos that tell the time one that does
// not stands behind the one whose name comes before its own: file times are often those of a copy.
func SortShots(shots []Shot) {
	byName := func(a, b Shot) int { return CompareNames(a.File, b.File) }
	slices.SortStableFunc(shots, byName)
	var first, timed []Shot // first: without a time, and no name before theirs tells one
	followers := map[string][]Shot{}
	for _, s := range shots {
		switch {
		case s.Taken != nil:
			timed = append(timed, s)
		case len(timed) > 0:
			leader := timed[len(timed)-1].File
			followers[leader] = append(followers[leader], s)
		default:
			first = append(first, s)
		}
	}
	if len(timed) == 0 {
		slices.SortStableFunc(shots, func(a, b Shot) int { return a.Written.Compare(b.Written) })
		return
	}
	slices.SortStableFunc(timed, func(a, b Shot) int { return a.Taken.Compare(*b.Taken) })
	sorted := first
	for _, s := range timed {
		sorted = append(append(sorted, s), followers[s.File]...)
	}
	copy(shots, sorted)
}

// CompareNames orders file names as people do: IMG_9 before IMG_10.
func CompareNames(a, b string) int {
	for a != "" && b != "" {
		x, restA := leading(a)
		y, restB := leading(b)
		if x != y {
			if digit(x[0]) && digit(y[0]) {
				p, q := strings.TrimLeft(x, "0"), strings.TrimLeft(y, "0")
				return cmp.Or(cmp.Compare(len(p), len(q)), cmp.Compare(p, q), cmp.Compare(len(x), len(y)))
			}
			return cmp.Compare(x, y)
		}
		a, b = restA, restB
	}
	return cmp.Compare(len(a), len(b))
}

// leading cuts the digits, or what is none, off the front of a name.
func leading(name string) (part, rest string) {
	n := 1
	for n < len(name) && digit(name[n]) == digit(name[0]) {
		n++
	}
	return name[:n], name[n:]
}

func digit(b byte) bool { return b >= '0' && b <= '9' }
