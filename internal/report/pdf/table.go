package pdf

// table has a row of column heads and rows of cells. Columns are as wide as their widest cell where the page allows it;
// what is too wide is broken into lines.
type table struct {
	head []sized
	rows [][]sized
}

const (
	cellGap     = 3.8
	cellPadding = 1.1
)

// tableRow is one row with the widths of its columns.
type tableRow struct {
	cells  []sized
	widths []float64
	head   *tableRow // nil for the head itself
}

func (t table) allRows(width float64) []block {
	widths := t.columnWidths(width)
	head := &tableRow{cells: t.head, widths: widths}
	out := []block{head}
	for _, row := range t.rows {
		out = append(out, &tableRow{row, widths, head})
	}
	return out
}

func (t table) height(width float64) float64 { return stack(t.allRows(width)).height(width) }
func (t table) draw(s *sheet, x, y, width float64) {
	stack(t.allRows(width)).draw(s, x, y, width)
}

// parts keep the head with the first row.
func (t table) parts(width float64) []block {
	rows := t.allRows(width)
	if len(rows) < 2 {
		return rows
	}
	return append([]block{stack(rows[:2])}, rows[2:]...)
}

// columnWidths gives every column what it would like, or, when that is too much, its longest word and of what is left
// no more than each other column that wants more. Where the words alone are too wide, the widest give way.
func (t table) columnWidths(width float64) []float64 {
	liked, least := make([]float64, len(t.head)), make([]float64, len(t.head))
	for _, row := range append([][]sized{t.head}, t.rows...) {
		for n, cell := range row {
			liked[n], least[n] = max(liked[n], cell.natural()), max(least[n], cell.narrowest())
		}
	}
	room := width - cellGap*float64(len(liked)-1)
	return shared(shared(make([]float64, len(liked)), least, room), liked, room)
}

// shared are the widths of columns that have at least and would like more, in which no column that has less than it
// would like is narrower than another.
func shared(least, liked []float64, room float64) []float64 {
	widths := make([]float64, len(liked))
	low, high := 0.0, room
	for range 40 { // halves of a page down to nothing that shows
		middle, sum := (low+high)/2, 0.0
		for n := range liked {
			sum += max(least[n], min(liked[n], middle))
		}
		if sum <= room {
			low = middle
		} else {
			high = middle
		}
	}
	for n := range liked {
		widths[n] = max(least[n], min(liked[n], low))
	}
	return widths
}

func (r *tableRow) height(float64) float64 {
	most := 0.0
	for n, cell := range r.cells {
		most = max(most, cell.height(r.widths[n]))
	}
	return most + 2*cellPadding
}

func (r *tableRow) draw(s *sheet, x, y, width float64) {
	left := x
	for n, cell := range r.cells {
		cell.draw(s, x, y+cellPadding, r.widths[n])
		x += r.widths[n] + cellGap
	}
	s.rule(left, y+r.height(width), x-cellGap-left, line)
}

func (r *tableRow) above() block {
	if r.head == nil {
		return gap(0)
	}
	return r.head
}
