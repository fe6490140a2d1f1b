package pdf

import (
	"fmt"
	"maps"
	"slices"
	"strings"
)

// explained is the scale, how it was measured, what a photo cannot tell, and the cautions.
func (r *writer) explained() []block {
	scale := table{head: []sized{
		r.words(
			caption,
			r.Texts.Grade,
		), r.words(caption, r.Texts.Index), r.words(caption, r.Texts.ReadsAs), r.words(caption, r.Texts.Practice),
	}}
	for _, row := range r.ScaleRows() {
		scale.rows = append(scale.rows, []sized{
			r.plate(
				r.ScalePlate(row),
				body,
			), r.words(body, row.Limits), r.words(body, row.ReadsAs), r.words(body, row.Practice),
		})
	}
	return []block{
		stack{r.heading(chapter, 0, r.Texts.Scale), gap(1), scale, gap(1.5), r.words(small, r.ScaleNote())}, gap(6),
		stack{r.heading(chapter, 0, r.Texts.HowMeasured), gap(1), r.paragraphs(body, r.Texts.Measured)}, gap(3),
		stack{r.heading(section, 1, r.Texts.Limits), gap(0.5), r.points(body, r.Texts.CannotTell)}, gap(5),
		beside{stack{r.heading(chapter, 0, r.Texts.Cautions), gap(1), r.points(body, r.Texts.CautionList)}}, gap(6),
	}
}

// proof names every photo of every visit with its hash and the version that graded it.
func (r *writer) proof() stack {
	out := stack{r.heading(chapter, 0, r.Texts.Proof), gap(1)}
	proofs := r.Proofs()
	for _, visit := range r.Visits {
		t := table{head: []sized{
			r.words(
				caption,
				r.Texts.Photo,
			), r.words(caption, r.Texts.Taken), r.words(caption, r.Texts.Hash), r.words(caption, r.Texts.Version),
		}}
		for ; len(proofs) > 0 && proofs[0].Visit == visit.Title; proofs = proofs[1:] {
			p := proofs[0]
			t.rows = append(
				t.rows,
				[]sized{r.words(fine, p.File), r.words(fine, p.Taken), r.words(fine, p.Hash), r.words(fine, p.Version)},
			)
		}
		out = append(out, stack{r.heading(section, 1, visit.Title), t}, gap(3))
	}
	return append(out, r.words(body, r.Texts.Verify), gap(1), r.words(body, r.Texts.Privacy), gap(4))
}

// signature is the line to sign on, with what the report was written by, and which characters it could not write.
func (r *writer) signature() block {
	out := stack{}
	if len(r.lost) > 0 {
		var codes []string
		for _, c := range slices.Sorted(maps.Keys(r.lost)) {
			codes = append(codes, fmt.Sprintf("U+%04X", c))
		}
		out = append(
			out,
			r.words(body, fmt.Sprintf(r.Texts.LostCharacters, string(missing), strings.Join(codes, ", "))),
		)
	}
	line := drawing{14, func(s *sheet, x, y, _ float64) { s.rule(x, y+14, 70, ink) }}
	return append(out, line, gap(0.8), r.words(small, r.Texts.Signature), gap(3), r.words(small, r.Written()))
}
