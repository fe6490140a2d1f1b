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
	if m.Outlined() {
		h := m.Head
		fmt.Fprintf(
			&text,
			"head: {centre: %s, axes: %s, angle: %s}\n",
			inBrackets(h.X, h.Y),
			inBrackets(h.A, h.B),
			hundredths(h.Angle),
		)
	}
	if s := m.Stem; s != nil {
		fmt.Fprintf(
			&text,
			"stem: {from: %s, to: %s, width: %s}\n",
			inBrackets(s.X1, s.Y1),
			inBrackets(s.X2, s.Y2),
			hundredths(s.Width),
		)
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

func inBrackets(a, b float64) string { return "[" + hundredths(a) + ", " + hundredths(b) + "]" }

func hundredths(v float64) string {
	return strconv.FormatFloat(math.Round(v*100)/100+0, 'f', -1, 64) // + 0 turns -0 into 0
}
