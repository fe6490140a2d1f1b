package pdf

// block is a piece of the report. Lengths are in millimetres.
type block interface {
	// height is how high the block is at the given width.
	height(width float64) float64
	// draw draws it with its upper left corner at x, y.
	draw(s *sheet, x, y, width float64)
}

// divisible is a block that may go on on the next page when it is higher than a whole one.
type divisible interface {
	block
	parts(width float64) []block
}

// continued is a part that repeats something above it when it comes first on a page, as rows of a table do.
type continued interface {
	block
	above() block
}

// gap is empty; at the top of a page it is left out.
type gap float64

func (g gap) height(float64) float64                 { return float64(g) }
func (g gap) draw(*sheet, float64, float64, float64) {}

// drawing is drawn by a function and has a fixed height.
type drawing struct {
	high float64
	ink  func(s *sheet, x, y, width float64)
}

func (d drawing) height(float64) float64             { return d.high }
func (d drawing) draw(s *sheet, x, y, width float64) { d.ink(s, x, y, width) }

// stack is blocks below one another that stay together on a page if one can hold them.
type stack []block

func (b stack) height(width float64) float64 {
	sum := 0.0
	for _, part := range b {
		sum += part.height(width)
	}
	return sum
}

func (b stack) draw(s *sheet, x, y, width float64) {
	for _, part := range b {
		part.draw(s, x, y, width)
		y += part.height(width)
	}
}

// parts leave no heading alone: it goes with the first part of what follows. Only what cannot be divided any further lets
// go of the lines that lead to it.
func (b stack) parts(width float64) []block {
	if len(b) == 0 {
		return nil
	}
	lead := 0
	for lead < len(b)-1 && leads(b[lead]) {
		lead++
	}
	next := partsOf(b[lead], width)
	if lines, ok := b[0].(leading); ok && lead == len(b)-1 && len(next) == 1 {
		return append(partsOf(stack(lines), width), b[1:]...)
	}
	if lead > 0 {
		next = append([]block{append(append(stack{}, b[:lead]...), next[0])}, next[1:]...)
	}
	return append(next, b[lead+1:]...)
}

// leads reports whether a block makes sense only above another.
func leads(b block) bool {
	switch b.(type) {
	case heading, gap, leading:
		return true
	}
	return false
}

// leading is a stack that makes sense only above another block.
type leading stack

func (b leading) height(width float64) float64       { return stack(b).height(width) }
func (b leading) draw(s *sheet, x, y, width float64) { stack(b).draw(s, x, y, width) }

// partsOf a block are itself when it cannot be divided.
func partsOf(b block, width float64) []block {
	if d, ok := b.(divisible); ok {
		if parts := d.parts(width); len(parts) > 0 {
			return parts
		}
	}
	return []block{b}
}

// columns are blocks beside one another, a gutter apart.
type columns struct {
	gutter float64
	blocks []block
	// shares of the width, the same for all when nil.
	shares []float64
}

func (b columns) widthOf(n int, width float64) float64 {
	room := width - b.gutter*float64(len(b.blocks)-1)
	if b.shares == nil {
		return room / float64(len(b.blocks))
	}
	return room * b.shares[n]
}

func (b columns) height(width float64) float64 {
	most := 0.0
	for n, part := range b.blocks {
		most = max(most, part.height(b.widthOf(n, width)))
	}
	return most
}

// parts divides every column and puts what comes first in each beside one another, then what comes second.
func (b columns) parts(width float64) []block {
	var rows []block
	for n, column := range b.blocks {
		for k, part := range partsOf(column, b.widthOf(n, width)) {
			if k == len(rows) {
				row := columns{b.gutter, make([]block, len(b.blocks)), b.shares}
				for i := range row.blocks {
					row.blocks[i] = gap(0)
				}
				rows = append(rows, row)
			}
			rows[k].(columns).blocks[n] = part
		}
	}
	return rows
}

func (b columns) draw(s *sheet, x, y, width float64) {
	for n, part := range b.blocks {
		part.draw(s, x, y, b.widthOf(n, width))
		x += b.widthOf(n, width) + b.gutter
	}
}

// flow is small blocks one after another, broken into rows as words are into lines.
type flow struct {
	gutter, leading float64
	blocks          []sized
}

// sized is a block with a width that it would like to have.
type sized interface {
	block
	natural() float64
	// narrowest is the width below which it would be torn apart within a word.
	narrowest() float64
}

// place calls at for every block with its place, and returns the height of all rows.
func (b flow) place(width float64, at func(part sized, x, y, w float64)) float64 {
	x, y, row := 0.0, 0.0, 0.0
	for _, part := range b.blocks {
		w := min(part.natural(), width)
		if x > 0 && x+w > width {
			x, y, row = 0, y+row+b.leading, 0
		}
		at(part, x, y, w)
		x, row = x+w+b.gutter, max(row, part.height(w))
	}
	return y + row
}

func (b flow) height(width float64) float64 {
	return b.place(width, func(sized, float64, float64, float64) {})
}

func (b flow) draw(s *sheet, x, y, width float64) {
	b.place(width, func(part sized, dx, dy, w float64) { part.draw(s, x+dx, y+dy, w) })
}

// beside puts a rule in a colour of the ramp along the left side of a block.
type beside struct{ block }

const (
	ruleWidth  = 1.4
	ruleIndent = 5
)

func (b beside) height(width float64) float64 { return b.block.height(width - ruleIndent) }

func (b beside) draw(s *sheet, x, y, width float64) {
	s.fill(classColours["2"])
	s.Rect(x, y, ruleWidth, b.height(width), "F")
	b.block.draw(s, x+ruleIndent, y, width-ruleIndent)
}
