package texture

// span are the columns of a row from from to before to; it is empty unless from lies before to.
type span struct{ from, to int }

func (s span) empty() bool { return s.from >= s.to }

// grown reaches further on both sides, within a row of the given width; none stays none.
func (s span) grown(by, width int) span {
	if s.empty() {
		return span{}
	}
	return span{max(0, s.from-by), min(width, s.to+by)}
}

// shrunk leaves out as much on both sides.
func (s span) shrunk(by int) span { return span{s.from + by, s.to - by} }

// around is the smallest span that holds both.
func (s span) around(t span) span {
	if s.empty() {
		return t
	}
	if t.empty() {
		return s
	}
	return span{min(s.from, t.from), max(s.to, t.to)}
}

// common is what both hold.
func (s span) common(t span) span { return span{max(s.from, t.from), min(s.to, t.to)} }

// without is what is left of s, before and after t.
func (s span) without(t span) [2]span {
	if t = s.common(t); t.empty() {
		return [2]span{s}
	}
	return [2]span{{s.from, t.from}, {t.to, s.to}}
}

// spansOf returns where a row of the mask begins and ends to be inside, and the longest run that is inside throughout.
func spansOf(inside []bool) (all, longest span) {
	for at := 0; at < len(inside); at++ {
		if !inside[at] {
			continue
		}
		run := span{at, at + 1}
		for run.to < len(inside) && inside[run.to] {
			run.to++
		}
		all = all.around(run)
		if run.to-run.from > longest.to-longest.from {
			longest = run
		}
		at = run.to
	}
	return all, longest
}
