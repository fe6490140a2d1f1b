package engine

import "strings"

// Which says which valves a sentence is about: their names, or that it is all. Of the valves of an engine some count for
// such sentences; where others do not, rest says so in place of "all valves", as "all valves that were graded" does.
func Which(names []string, counting, valves int, rest string) string {
	switch {
	case len(names) < 2 || len(names) < counting:
		return strings.Join(names, ", ")
	case counting < valves:
		return rest
	}
	return "all valves"
}
