package pdf

import (
	"slices"

	"valvegrade/pkg/report"
)

// beforeAndAfter puts the two states of a valve side by side: readings, the photos that were compared, then further
// photos, small. Where a state has no photo that was graded, there is nothing to compare, and all photos are small.
func (r *writer) beforeAndAfter(v report.Valve, highest float64) block {
	var readings, photos, said, further []block
	if slices.ContainsFunc(v.States, func(s report.State) bool { return len(s.Photos) > 1 }) {
		highest = min(highest, highestOfMore)
	}
	twoSided := v.Shown(0) != nil && v.Shown(1) != nil
	for visit, state := range v.States {
		reading := stack{r.words(label, r.Visits[visit].Title), gap(1), r.reading(state), gap(1.5)}
		if line := r.OverruledLine(state); line != "" {
			reading = append(reading, r.words(strong, line), gap(1.5))
		}
		readings = append(readings, reading)
		var shown *report.Photo
		if twoSided {
			shown = v.Shown(visit)
		}
		switch {
		case len(state.Photos) == 0:
			photos, said = append(photos, r.words(small, r.Texts.NoPhoto)), append(said, gap(0))
		case shown == nil:
			photos, said = append(photos, gap(0)), append(said, gap(0))
		case shown.Marked == nil:
			photos, said = append(photos, picture{shown.Plain, highest}), append(said, r.said(*shown))
		default:
			photos, said = append(photos, picture{shown.Plain, highest}), append(said, r.beside(*shown))
		}
		others := stack{}
		for n := range state.Photos {
			if shown != &state.Photos[n] {
				others = append(others, gap(2), r.beside(state.Photos[n]))
			}
		}
		further = append(further, others)
	}
	pair := func(blocks []block) block { return columns{gutter: photoGap, blocks: blocks} }
	return stack{stack{pair(readings), pair(photos), gap(1.2), pair(said)}, pair(further)}
}

const (
	// highestOfPair leaves room on the page for what cleaning did, highestOfMore for further photos, too, or for more
	// to be said; lowestOfPair still shows what a valve looks like.
	highestOfPair = 52.0
	highestOfMore = 44.0
	lowestOfPair  = 36.0
	highestBeside = 34.0
)

// beside shows a photo, as measured where it was, beside what is said of it.
func (r *writer) beside(p report.Photo) block {
	shown := p.Marked
	if shown == nil {
		shown = p.Plain
	}
	if shown == nil {
		return r.said(p)
	}
	return columns{
		gutter: 2.5,
		blocks: []block{picture{shown, highestBeside}, r.said(p)},
		shares: []float64{0.44, 0.56},
	}
}

// comparison is what cleaning did to a valve, the map of what is left beside the figures.
func (r *writer) comparison(c *report.Comparison) block {
	out := stack{r.words(label, r.ComparisonTitle(c)), gap(0.5)}
	if c.Refused != "" {
		return append(out, r.words(body, c.Refused))
	}
	out = append(out, r.words(body, c.Outcome), gap(1))
	figures := stack{r.figures(r.ComparisonFacts(c))}
	if left := r.LeftFacts(c); len(left) > 0 {
		figures = append(
			figures,
			gap(1.5),
			columns{
				gutter: 2,
				blocks: []block{r.words(caption, r.Between.Left), r.right(caption, r.Texts.Index)},
				shares: nameAndValue,
			},
			r.figures(left),
		)
	}
	if c.Map == nil {
		return append(out, figures)
	}
	figures = append(figures, gap(2), r.words(small, r.Between.ResidueMap+". "+r.Between.Residue))
	return append(out, columns{gutter: 5, blocks: []block{picture{c.Map, 70}, figures}, shares: []float64{0.58, 0.42}})
}

// nameAndValue are the shares of the width that a name and its value have.
var nameAndValue = []float64{0.45, 0.55}

// figures are names with their values, one a row.
func (r *writer) figures(facts []report.Fact) block {
	var rows stack
	for _, fact := range facts {
		rows = append(
			rows,
			columns{
				gutter: 2,
				blocks: []block{r.words(small, fact.Name), r.right(small, fact.Value)},
				shares: nameAndValue,
			},
		)
	}
	return rows
}
