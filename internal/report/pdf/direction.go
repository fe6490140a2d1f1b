package pdf

import (
	"slices"
	"strings"

	"golang.org/x/text/unicode/bidi"
)

// leftToRight and rightToLeft give a line the direction of its paragraph (Unicode Standard Annex 9: a strong first
// character does).
const (
	leftToRight = "\u200e"
	rightToLeft = "\u200f"
)

// directionOf is that of the first letter with a direction.
func directionOf(paragraph string) string {
	for _, r := range paragraph {
		properties, _ := bidi.LookupRune(r)
		switch properties.Class() {
		case bidi.L:
			return leftToRight
		case bidi.R, bidi.AL:
			return rightToLeft
		}
	}
	return leftToRight
}

// visual puts the characters of a line into the order in which they stand on paper, from the left.
func visual(line, direction string) string {
	if !strings.ContainsFunc(line, turns) {
		return line
	}
	var p bidi.Paragraph
	if _, err := p.SetString(direction + line); err != nil {
		return line
	}
	order, err := p.Order()
	if err != nil {
		return line
	}
	runs := runsOf(order)
	if direction == rightToLeft {
		slices.Reverse(runs)
	} else {
		reverseIslands(runs)
	}
	var out strings.Builder
	for _, r := range runs {
		text := r.text
		if r.backward {
			text = bidi.ReverseString(text)
		}
		out.WriteString(strings.Trim(text, leftToRight+rightToLeft))
	}
	return out.String()
}

func turns(r rune) bool {
	properties, _ := bidi.LookupRune(r)
	class := properties.Class()
	return class == bidi.R || class == bidi.AL || class == bidi.AN
}

// run is a piece of a line in one direction. number is true for a number that follows what is written backward and so
// belongs to it.
type run struct {
	text             string
	backward, number bool
}

// runsOf are the runs of a line as the library finds them, with numbers set apart from the words after them: it tells
// directions, not levels.
func runsOf(order bidi.Ordering) []run {
	var runs []run
	for i := range order.NumRuns() {
		found := order.Run(i)
		text := found.String()
		if found.Direction() == bidi.RightToLeft {
			runs = append(runs, run{text: text, backward: true})
			continue
		}
		if n := leadingNumber(text); n > 0 && len(runs) > 0 {
			runs = append(runs, run{text: text[:n], number: true})
			text = text[n:]
		}
		if text != "" {
			runs = append(runs, run{text: text})
		}
	}
	return runs
}

// leadingNumber is how many bytes of a text are a number that it begins with.
func leadingNumber(text string) int {
	end := 0
	for i, r := range text {
		properties, size := bidi.LookupRune(r)
		switch properties.Class() {
		case bidi.EN, bidi.AN:
			end = i + size
		case bidi.ES, bidi.CS, bidi.ET:
		default:
			return end
		}
	}
	return end
}

// reverseIslands turns around what is written from right to left within a line from left to right, numbers in it
// included.
func reverseIslands(runs []run) {
	for start := 0; start < len(runs); start++ {
		if !runs[start].backward {
			continue
		}
		end := start
		for end < len(runs) && (runs[end].backward || runs[end].number) {
			end++
		}
		slices.Reverse(runs[start:end])
		start = end - 1
	}
}
