package region

import (
	"fmt"
	"image"
	"slices"

	"valvegrade/pkg/reason"
)

// Paint is what a stroke by hand says of the pixels under it.
type Paint string

// The paints: the deposit classes, and pixels that do not count, such as those of a tool, a finger or glare.
const (
	PaintBare   Paint = "bare"
	PaintFilm   Paint = "film"
	PaintMedium Paint = "medium"
	PaintHeavy  Paint = "heavy"
	PaintAside  Paint = "aside"
)

// Codes of Region.Painted: those of the classes of package deposit, and Unpainted for what is as it was measured.
const (
	paintedAside uint8 = 254
	Unpainted    uint8 = 255
)

var paintCodes = map[Paint]uint8{PaintBare: 0, PaintFilm: 1, PaintMedium: 2, PaintHeavy: 3, PaintAside: paintedAside}

// paint renders the strokes, later ones over earlier ones; nil when there are none.
func (m *Marks) paint(size image.Rectangle) *image.Gray {
	if len(m.Painted) == 0 {
		return nil
	}
	painted := image.NewGray(size)
	for i := range painted.Pix {
		painted.Pix[i] = Unpainted
	}
	for _, s := range m.Painted {
		code := paintCodes[s.Paint]
		s.eachRun(size, func(y, from, to int) { fill(painted.Pix[y*painted.Stride:][from:to], code) })
	}
	return painted
}

// wear gives the valves the paint on them, and a caution where strokes lie beside all of them. Paint says what lies on a
// valve, not where the valve is: the wall of the port is painted over easily. Only where the net itself saw valve that
// was tidied away, such as a part behind a tool, does a class that somebody painted bring it back, in photos of one
// valve. An outline by hand is taken at its word.
func (m *Marks) wear(valves []*Region) {
	painted := m.paint(valves[0].Mask.Rect)
	if painted == nil {
		return
	}
	for _, r := range valves {
		if r.pixels() > 0 {
			r.Painted, r.PaintedBy = painted, m.By
		}
	}
	if r := valves[0]; len(valves) == 1 && r.pixels() > 0 && r.Source == Auto && r.Evidence != nil {
		r.restore(propose(r.Evidence).enlarge(r.Mask.Rect))
	}
	beside := m.beside(valves)
	if len(beside) == 0 {
		return
	}
	for _, r := range valves {
		if r.pixels() > 0 {
			r.Reasons = append(r.Reasons, reason.With(reason.PaintBeside, besideDetail(beside, len(m.Painted))))
		}
	}
}

// restore gives painted pixels that were tidied away back to the valve; seen is where the net saw it.
func (r *Region) restore(seen *image.Gray) {
	for i, code := range r.Painted.Pix {
		if code < paintedAside && r.Mask.Pix[i] == Background {
			r.Mask.Pix[i] = seen.Pix[i]
		}
	}
	r.count()
}

// beside are the numbers, from 1, of the strokes that touch no valve.
func (m *Marks) beside(valves []*Region) []int {
	var numbers []int
	for n, s := range m.Painted {
		touches := func(r *Region) (touched bool) {
			s.eachRun(r.Mask.Rect, func(y, from, to int) {
				touched = touched || slices.ContainsFunc(r.Mask.Pix[y*r.Mask.Stride:][from:to], isValve)
			})
			return touched
		}
		if !slices.ContainsFunc(valves, touches) {
			numbers = append(numbers, n+1)
		}
	}
	return numbers
}

func isValve(label uint8) bool { return label != Background }

func besideDetail(numbers []int, of int) string {
	switch {
	case of == 1:
		return "the stroke that was painted lies beside the valve and was ignored"
	case len(numbers) == 1:
		return fmt.Sprintf("stroke %d of %d that were painted lies beside the valve and was ignored", numbers[0], of)
	}
	return fmt.Sprintf("%d of %d strokes that were painted lie beside the valve and were ignored", len(numbers), of)
}
