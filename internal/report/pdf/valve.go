package pdf

import (
	"fmt"
	"slices"

	"valvegrade/pkg/grade"
	"valvegrade/pkg/report"
	"valvegrade/pkg/score"
)

// valves are all valves of all cylinders, each on one page with what is said of it.
func (r *writer) valves() []block {
	var out []block
	for _, c := range r.Cylinders {
		above := stack{
			leading{
				r.heading(chapter, 0, fmt.Sprintf("%s %d", r.Texts.Cylinder, c.Number)),
				gap(1),
				r.paragraphs(body, c.Lines),
				gap(2),
			},
		}
		for _, v := range c.Valves {
			out = append(out, r.onAPage(above, v), gap(7))
			above = nil
		}
	}
	return out
}

// onAPage is a valve with what stands above it, with photos so large that a page holds it all where one can.
func (r *writer) onAPage(above stack, v report.Valve) stack {
	var all stack
	for _, highest := range []float64{highestOfPair, highestOfMore, lowestOfPair} {
		if all = append(above[:len(above):len(above)], r.valve(v, highest)); all.height(r.width) <= r.height {
			break
		}
	}
	return all
}

// valve is what was seen in every visit, side by side in pictures of at most that height, and what cleaning did.
func (r *writer) valve(v report.Valve, highest float64) stack {
	out := stack{r.heading(section, 1, fmt.Sprintf(r.Texts.ValveLine, v.Cylinder, v.Number)), gap(1)}
	switch {
	case !photographed(v):
		return append(out, r.words(body, r.Texts.NotGraded+": "+r.Texts.NoPhoto))
	case len(v.States) > 1:
		return append(out, r.beforeAndAfter(v, highest), gap(2), r.comparison(v.Comparison))
	}
	out = append(out, r.reading(v.States[0]))
	if line := r.OverruledLine(v.States[0]); line != "" {
		out = append(out, gap(1), r.words(strong, line))
	}
	for _, photo := range v.States[0].Photos {
		out = append(out, gap(2), r.photo(photo))
	}
	return out
}

func photographed(v report.Valve) bool {
	return slices.ContainsFunc(v.States, func(s report.State) bool { return len(s.Photos) > 0 })
}

// reading is the grade, how likely it and the others are, dark deposit, and the index on a ruler of the scale.
func (r *writer) reading(state report.State) block {
	reading := state.Reading
	shown := r.plate(r.Plate(reading), label)
	if !reading.Index.Known() {
		return shown
	}
	line := flow{gutter: 4, leading: 1, blocks: []sized{shown, steps(r.Steps(reading))}}
	if reading.Dark.Known() {
		line.blocks = append(line.blocks, r.words(strong, r.Texts.Dark+" "+r.Percentage(reading.Dark)))
	}
	line.blocks = append(line.blocks, r.words(cell, r.Texts.Index+" "+r.Index(reading.Index)))
	if said := r.BuildUpLine(state); said != "" {
		line.blocks = append(line.blocks, r.words(cell, said))
	}
	return stack{
		line, gap(1),
		drawing{3.6, func(s *sheet, x, y, width float64) { ruler(s, reading, x, y, min(width, 90)) }},
	}
}

// ruler is the scale from 0 to 100 with the index as a stroke on it and its interval as a bar above.
func ruler(s *sheet, reading report.Reading, x, y, width float64) {
	limits := append(append([]float64{0}, grade.Limits()...), 100)
	for value := range grade.Names() {
		s.fill(classColours[fmt.Sprint(value)])
		s.Rect(x+limits[value]*width/100, y+2, (limits[value+1]-limits[value])*width/100, 1.6, "F")
	}
	s.fill(ink)
	i := reading.Index
	s.Rect(x+i.Low*width/100, y+0.7, (i.High-i.Low)*width/100, 0.5, "F")
	s.Rect(x+i.Value*width/100-0.3, y, 0.6, 2, "F")
}

// photo shows a photo as it is beside what was measured in it, and what is said of it below.
func (r *writer) photo(p report.Photo) block {
	out := stack{}
	var pictures []block
	for _, shown := range []*report.Picture{p.Plain, p.Marked} {
		if shown != nil {
			pictures = append(pictures, picture{shown, highestPhoto})
		}
	}
	if len(pictures) == 1 {
		pictures = append(pictures, gap(0))
	}
	if len(pictures) > 0 {
		out = append(out, columns{gutter: photoGap, blocks: pictures}, gap(1.2))
	}
	return append(out, r.said(p))
}

const (
	highestPhoto = 66
	photoGap     = 4
)

// said is all that is known of a photo in words and figures.
func (r *writer) said(p report.Photo) block {
	name := r.words(small, p.Name())
	name.text = shorten(name.text, small.faces, 80/small.mm())
	out := stack{name}
	if p.Absent != "" {
		out = append(out, r.words(body, p.Absent))
	}
	for _, line := range []string{r.LeftOutLine(p), r.PaintedLine(p.Record)} {
		if line != "" {
			out = append(out, r.words(small, line))
		}
	}
	if p.Record.Status == score.Scored {
		out = append(out, r.shares(r.ClassShares(p.Record.Shares)))
		if r.Workshop {
			out = append(out, r.words(small, r.PhotoFigures(p.Record)))
		}
	} else {
		out = append(out, r.words(strong, r.Texts.NotGraded))
	}
	for _, remark := range r.Remarks(p.Record) {
		out = append(out, r.words(small, remark))
	}
	return out
}

// shares are the deposit classes as a bar and its legend.
func (r *writer) shares(shares []report.ClassShare) block {
	bar := drawing{3.2, func(s *sheet, x, y, width float64) {
		for _, share := range shares {
			s.fill(classColours[share.Class])
			s.Rect(x, y+0.4, share.Value*width, 2, "F")
			x += share.Value * width
		}
	}}
	legend := flow{gutter: 4, leading: 0.3}
	for _, share := range shares {
		legend.blocks = append(legend.blocks, key{share.Class, r.words(small, share.Words)})
	}
	return stack{bar, legend}
}
