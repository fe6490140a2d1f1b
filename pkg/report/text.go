package report

import (
	"fmt"
	"io"
	"slices"
	"strings"
	"unicode"

	"golang.org/x/text/unicode/bidi"
)

// WriteText writes plain lines to paste into an invoice: one that sums up, then for each cylinder a few and why
// a valve is not graded, then the notes, what a grade does not say and where the cautions of a cleaning stand.
func (m *Model) WriteText(w io.Writer) error {
	var text strings.Builder
	last := m.Visits[len(m.Visits)-1].Engine.Inspection
	about := append([]string{m.VehicleNamed()}, m.Locale.when(last)...)
	fmt.Fprintf(&text, "%s: %s\n", oneLine(strings.Join(about, ", ")), m.Summary)
	for _, c := range m.Cylinders {
		for _, line := range append(slices.Clone(c.Lines), m.refusals(c)...) {
			fmt.Fprintln(&text, oneLine(line))
		}
	}
	for _, note := range m.ShownNotes() {
		fmt.Fprintln(&text, oneLine(fmt.Sprintf(m.Texts.NoteLine, note)))
	}
	fmt.Fprintln(&text, m.Texts.CautionList[0])
	fmt.Fprintln(&text, m.Texts.CautionsElsewhere)
	_, err := io.WriteString(w, text.String())
	return err
}

// Isolates keep a run of text from turning the direction of what stands around it (Unicode Standard Annex 9).
const (
	firstStrongIsolate    = '\u2068'
	popDirectionalIsolate = '\u2069'
)

// oneLine makes a text from outside safe to stand in a plain line: no line breaks or other control characters, no marks
// that turn the direction of writing, and words that are written from right to left kept to themselves.
func oneLine(text string) string {
	plain := strings.Join(strings.Fields(strings.Map(func(r rune) rune {
		switch {
		case unicode.IsSpace(r):
			return ' '
		case unicode.IsControl(r) || unicode.Is(unicode.Bidi_Control, r):
			return -1
		default:
			return r
		}
	}, text)), " ")
	if strings.ContainsFunc(plain, rightToLeft) {
		return string(firstStrongIsolate) + plain + string(popDirectionalIsolate)
	}
	return plain
}

func rightToLeft(r rune) bool {
	properties, _ := bidi.LookupRune(r)
	class := properties.Class()
	return class == bidi.R || class == bidi.AL
}
