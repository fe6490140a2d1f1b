package pdf

import (
	"fmt"
	"io"
	"maps"
	"slices"

	"valvegrade/pkg/report"
)

// Write writes the report as PDF on the model's paper. It returns the characters that its fonts lack, in order; the
// last page names them, too.
func Write(m *report.Model, w io.Writer) ([]rune, error) {
	s := newSheet(m.Paper)
	s.describe(m)
	width, height := s.room()
	r := &writer{Model: m, width: width, height: height, lost: map[rune]bool{}}
	blocks := append([]block{r.head()}, r.result()...)
	blocks = append(blocks, r.valves()...)
	history, err := r.history()
	if err != nil {
		return nil, err
	}
	blocks = append(append(blocks, history...), r.explained()...)
	// The signature knows which characters all the others have lost. It stands below what is signed for, and not alone.
	blocks = append(blocks, append(r.proof(), r.signature()))

	pages := paginate(blocks, width, height)
	for n, p := range pages {
		s.AddPage()
		for _, b := range p {
			b.draw(s, side, top+b.y, width)
		}
		r.edges(s, n+1, len(pages))
	}
	return slices.Sorted(maps.Keys(r.lost)), s.finish(w)
}

// writer turns the parts of a report into blocks.
type writer struct {
	*report.Model
	// width and height are those of a page between its margins.
	width, height float64
	// lost are the characters that no face can show.
	lost map[rune]bool
}

// words sets a text in a style.
func (r *writer) words(in style, text string) words {
	return words{style: in, text: prepare(text, r.lost)}
}

// right sets a figure so that it ends where the others in its column do.
func (r *writer) right(in style, text string) words {
	w := r.words(in, text)
	w.right = true
	return w
}

func (r *writer) heading(in style, level int, text string) heading {
	return heading{r.words(in, text), level}
}

// paragraphs sets texts below one another.
func (r *writer) paragraphs(in style, texts []string) stack {
	var out stack
	for _, text := range texts {
		out = append(out, r.words(in, text), gap(1))
	}
	return out
}

// points sets texts as a list.
func (r *writer) points(in style, texts []string) stack {
	var out stack
	for _, text := range texts {
		out = append(out, item{r.words(in, text)}, gap(0.6))
	}
	return out
}

// notes are a list of any length under a heading, which may go on on the next page.
func (r *writer) notes(title string, texts []string) []block {
	if len(texts) == 0 {
		return nil
	}
	list := r.points(body, texts)
	return append(append([]block{stack{r.heading(section, 1, title), list[0]}}, list[1:]...), gap(4))
}

// plate shows the grade of a reading.
func (r *writer) plate(p report.Plate, in style) plate {
	return plate{p, r.words(in, p.Words)}
}

// edges are the head line, from the second page on, and the foot line of a page.
func (r *writer) edges(s *sheet, number, of int) {
	width, _ := s.room()
	page := r.words(small, fmt.Sprintf(r.Texts.PageOf, fmt.Sprint(number), fmt.Sprint(of)))
	page.right = true
	y := s.height - bottom + 7
	s.rule(side, y-1.5, width, line)
	page.draw(s, side, y, width)
	foot := r.words(small, r.Texts.Title)
	foot.draw(s, side, y, width-page.natural())
	if number > 1 {
		r.headLine(s, width)
	}
}

// headLine says on every page what it belongs to.
func (r *writer) headLine(s *sheet, width float64) {
	about := r.VehicleNamed()
	if r.Job.Number != "" {
		about += " · " + r.Texts.Job + " " + r.Job.Number
	}
	left, right := r.words(small, about), r.words(small, r.Shop.Name)
	half := width/2 - 2
	left.text = shorten(left.text, small.faces, half/small.mm())
	right.text = shorten(right.text, small.faces, half/small.mm())
	right.right = true
	left.draw(s, side, top-7, half+1)
	right.draw(s, side+half+3, top-7, half+1)
}
