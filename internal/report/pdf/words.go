package pdf

import "strings"

// words is a paragraph. Its text is prepared.
type words struct {
	style
	text string
	// right and centre say where lines stand in their width; left when neither.
	right, centre bool
}

func (b words) lines(width float64) []string {
	return wrap(b.text, b.faces, width/b.mm())
}

func (b words) natural() float64 { return widthOf(b.text, b.faces)*b.mm() + 0.01 } // or rounding breaks the line

// narrowest is as wide as its longest word.
func (b words) narrowest() float64 {
	longest := 0.0
	for word := range strings.SplitSeq(b.text, " ") {
		longest = max(longest, widthOf(word, b.faces))
	}
	return longest*b.mm() + 0.01
}

func (b words) height(width float64) float64 {
	return float64(len(b.lines(width))) * b.lineHeight()
}

func (b words) draw(s *sheet, x, y, width float64) {
	direction := directionOf(b.text)
	for _, text := range b.lines(width) {
		at := x
		switch free := width - widthOf(text, b.faces)*b.mm(); {
		case b.right:
			at += free
		case b.centre:
			at += free / 2
		}
		s.write(at, y+b.baseline(), visual(text, direction), b.style)
		y += b.lineHeight()
	}
}

// baseline is how far below the top of a line its letters stand.
func (s style) baseline() float64 { return s.lineHeight()/2 + 0.36*s.mm() }

// parts are its lines, so that a very long text does not run off the page.
func (b words) parts(width float64) []block {
	var out []block
	for _, text := range b.lines(width) {
		part := b
		part.text = text
		out = append(out, part)
	}
	return out
}

// heading is a title of a part of the report; it is listed in the document's outline at its level.
type heading struct {
	words
	level int
}

func (b heading) draw(s *sheet, x, y, width float64) {
	s.outline(b.text, b.level, y)
	b.words.draw(s, x, y, width)
}

// item is a paragraph behind a dash.
type item struct{ words }

const itemIndent = 3.5

func (b item) height(width float64) float64 { return b.words.height(width - itemIndent) }

func (b item) draw(s *sheet, x, y, width float64) {
	s.write(x, y+b.baseline(), "–", b.style)
	b.words.draw(s, x+itemIndent, y, width-itemIndent)
}

// parts are its lines; the dash stands before the whole point only.
func (b item) parts(width float64) []block {
	parts := b.words.parts(width - itemIndent)
	for n, part := range parts {
		parts[n] = inset{part, itemIndent}
	}
	return parts
}

// inset moves a block to the right.
type inset struct {
	block
	indent float64
}

func (b inset) height(width float64) float64 { return b.block.height(width - b.indent) }
func (b inset) draw(s *sheet, x, y, width float64) {
	b.block.draw(s, x+b.indent, y, width-b.indent)
}
