package region

import (
	"bytes"
	"fmt"
	"math"
	"strconv"
)

// Write returns the YAML of a marks file, which ParseMarks reads; lengths are written to a hundredth of a pixel. The
// error is that of marks that cannot be.
func (m *Marks) Write() ([]byte, error) {
	var text bytes.Buffer
	if m.By != "" {
		fmt.Fprintf(&text, "by: %q\n", m.By)
	}
	for n, o := range m.outlines() {
		switch n {
		case 0:
			o.write(&text, "", "")
		case 1:
			text.WriteString("others:\n")
			fallthrough
		default:
			o.write(&text, "  - ", "    ")
		}
	}
	if m.FindOthers {
		text.WriteString("find_others: true\n")
	}
	for n, s := range m.Painted {
		if n == 0 {
			text.WriteString("painted:\n")
		}
		fmt.Fprintf(&text, "  - {paint: %s, width: %s, path: [", s.Paint, hundredths(s.Width))
		for n, p := range s.Path {
			if n > 0 {
				text.WriteString(", ")
			}
			text.WriteString(inBrackets(p.X, p.Y))
		}
		text.WriteString("]}\n")
	}
	if _, err := ParseMarks(text.Bytes()); err != nil {
		return nil, err
	}
	return text.Bytes(), nil
}

// write writes head and stem, each on a line of its own that begins with what is given.
func (o Outline) write(text *bytes.Buffer, first, next string) {
	h := o.Head
	fmt.Fprintf(
		text,
		"%shead: {centre: %s, axes: %s, angle: %s}\n",
		first,
		inBrackets(h.X, h.Y),
		inBrackets(h.A, h.B),
		hundredths(h.Angle),
	)
	if s := o.Stem; s != nil {
		fmt.Fprintf(
			text,
			"%sstem: {from: %s, to: %s, width: %s}\n",
			next,
			inBrackets(s.X1, s.Y1),
			inBrackets(s.X2, s.Y2),
			hundredths(s.Width),
		)
	}
}

func inBrackets(a, b float64) string { return "[" + hundredths(a) + ", " + hundredths(b) + "]" }

func hundredths(v float64) string {
	return strconv.FormatFloat(math.Round(v*100)/100+0, 'f', -1, 64) // + 0 turns -0 into 0
}
