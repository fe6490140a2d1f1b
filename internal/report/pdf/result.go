package pdf

import (
	"fmt"

	"valvegrade/pkg/report"
)

// result is the summary with the engine from above, its table, its chart, and what is odd about it all.
func (r *writer) result() []block {
	engines := make([]block, len(r.Visits))
	for n, visit := range r.Visits {
		engines[n] = r.engine(n)
		if len(r.Visits) > 1 {
			engines[n] = stack{r.words(label, visit.Title), gap(1), engines[n]}
		}
	}
	below := stack{gap(1)}
	if len(r.Visits) > 1 {
		below = append(below, r.words(small, r.Between.EngineChartKey))
	}
	seen := stack{
		r.heading(chapter, 0, r.Texts.Result),
		gap(1),
		r.words(lead, r.Summary),
		gap(3),
		columns{gutter: photoGap, blocks: engines},
	}
	if key := r.OverruledKey(); key != "" {
		seen = append(seen, r.words(small, key))
	}
	return []block{
		seen, gap(2),
		r.table(), gap(1), r.words(small, r.TableKey()), gap(3),
		yielding{
			chart{r.EngineChart(), report.EngineChartWidth, report.EngineChartHeight, highestChart},
			append(below, r.words(small, r.Texts.MarkedKey+" "+r.Texts.StepsKey)),
			append([]block{gap(3)}, r.notes(r.NotesTitle(), r.ShownNotes())...), leastChart,
		}, gap(3),
	}
}

// The chart of the engine stands below its table on the first page, as large as there is room.
const (
	highestChart = 62
	leastChart   = 40
)

func (r *writer) engine(visit int) cylinders {
	b := cylinders{number: small}
	for _, c := range r.Cylinders {
		b.of = append(b.of, r.Discs(c, visit))
	}
	return b
}

// table has a row for each cylinder.
func (r *writer) table() table {
	t := table{head: []sized{r.words(caption, r.Texts.Cylinder)}}
	for _, visit := range r.Visits {
		grade := r.Texts.Grade
		if len(r.Visits) > 1 {
			grade = visit.Title
		}
		t.head = append(
			t.head,
			r.words(caption, grade),
			r.right(caption, r.Texts.Dark),
			r.right(caption, r.Texts.Index),
		)
	}
	if r.Methods() {
		t.head = append(t.head, r.words(caption, r.Texts.Method))
	}
	for _, c := range r.Cylinders {
		row := []sized{r.words(strong, fmt.Sprint(c.Number))}
		for _, reading := range c.Readings {
			row = append(
				row,
				r.plate(r.Plate(reading), cell),
				r.right(cell, r.Whole(r.Percentage(reading.Dark))),
				r.right(cell, r.Whole(r.Index(reading.Index))),
			)
		}
		if r.Methods() {
			row = append(row, r.words(cell, brief(r.CleanedBy(c))))
		}
		t.rows = append(t.rows, row)
	}
	return t
}

// longestCell is the number of letters that a cell of a table shows of a text: its row must fit on a page.
const longestCell = 60

// brief shortens a text for a table; the cylinder's own lines tell it whole.
func brief(text string) string {
	if letters := []rune(text); len(letters) > longestCell {
		return string(letters[:longestCell-1]) + "…"
	}
	return text
}
