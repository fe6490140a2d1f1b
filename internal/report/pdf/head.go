package pdf

import (
	"strings"

	"valvegrade/internal/ramp"
	"valvegrade/pkg/report"
)

// head says who writes for whom about what.
func (r *writer) head() block {
	out := stack{}
	if shop := r.shop(); shop != nil {
		out = append(out, shop, gap(7))
	}
	out = append(
		out,
		r.heading(title, 0, r.Texts.Title),
		gap(2),
		columns{gutter: 5, blocks: r.facts(r.jobFacts())},
		gap(2.5),
		drawing{1.8, ramped},
		gap(4),
	)
	if r.Job.Remarks != "" {
		out = append(out, r.remarks(), gap(3))
	}
	return out
}

// remarks are set in the lines in which they were written; what stands between two empty ones is a paragraph.
func (r *writer) remarks() block {
	out := stack{}
	for line := range strings.SplitSeq(r.Texts.Remarks+": "+strings.TrimSpace(r.Job.Remarks), "\n") {
		if strings.TrimSpace(line) == "" {
			out = append(out, gap(2))
			continue
		}
		out = append(out, r.words(body, line))
	}
	return out
}

// shop is the logo beside name and address, nil when nothing is known.
func (r *writer) shop() block {
	about := stack{}
	if r.Shop.Name != "" {
		about = append(about, r.words(section, r.Shop.Name))
	}
	for _, text := range append(append([]string{}, r.Shop.Address...), r.Shop.Phone, r.Shop.Email, r.Shop.About) {
		if text != "" {
			about = append(about, r.words(small, text))
		}
	}
	const logoWidth, logoHeight = 42, 20
	logo := r.Shop.Logo
	switch {
	case logo == nil && len(about) == 0:
		return nil
	case logo == nil:
		return about
	}
	shown := picture{logo, min(logoHeight, logoWidth*float64(logo.Height)/float64(logo.Width))}
	return beforeText{shown, about}
}

// beforeText puts a picture to the left of a block.
type beforeText struct {
	picture
	text block
}

const pictureGap = 5

func (b beforeText) height(width float64) float64 {
	return max(b.highest, b.text.height(width-b.natural()-pictureGap))
}

func (b beforeText) draw(s *sheet, x, y, width float64) {
	b.picture.draw(s, x, y, b.natural())
	b.text.draw(s, x+b.natural()+pictureGap, y, width-b.natural()-pictureGap)
}

// jobFacts are vehicle, job, people and visits, those that are known.
func (r *writer) jobFacts() []report.Fact {
	facts := []report.Fact{{Name: r.Texts.Vehicle, Value: r.VehicleNamed()}}
	for _, fact := range []report.Fact{
		{Name: r.Texts.Job, Value: r.Job.Number}, {Name: r.Texts.Customer, Value: r.Job.Customer}, {Name: r.Texts.Technician, Value: r.Job.Technician},
	} {
		if fact.Value != "" {
			facts = append(facts, fact)
		}
	}
	for _, v := range r.Visits {
		if when := r.Locale.When(v.Engine.Inspection); when != "" {
			facts = append(facts, report.Fact{Name: v.Title, Value: when})
		}
	}
	return facts
}

// facts deals facts out to three columns, row by row.
func (r *writer) facts(facts []report.Fact) []block {
	const across = 3
	out := make([]block, across)
	for n := range out {
		column := stack{}
		for i := n; i < len(facts); i += across {
			column = append(column, r.words(small, facts[i].Name), r.words(label, facts[i].Value), gap(1.5))
		}
		out[n] = column
	}
	return out
}

// ramped draws the ramp of the scale across the page.
func ramped(s *sheet, x, y, width float64) {
	const grades = 5
	for value := range grades {
		s.fill(ramp.Grade(value))
		s.Rect(x+float64(value)*width/grades, y, width/grades, 1.8, "F")
	}
}
