package region

// proposal is the net's idea of the valve, cell by cell, while geometry works on it.
//
// All tidying happens here, on the net's grid, by exchanging logits: cheap whatever the photo's size, and exact,
// because a square of four cells that agree is of one label throughout when the logits are interpolated, so parts that
// do not touch on the grid do not touch in the photo either.
type proposal struct {
	*Evidence
	// logit starts as a copy of Evidence.Region; label is the largest of the three in each cell.
	logit [3][]float32
	label []uint8
}

func propose(e *Evidence) *proposal {
	p := &proposal{Evidence: e, label: make([]uint8, e.Cols*e.Rows)}
	for k := range p.logit {
		p.logit[k] = append([]float32(nil), e.Region[k]...)
	}
	p.relabel()
	return p
}

// largest returns the label with the largest logit; of equals the first.
func largest(background, head, stem float32) uint8 {
	switch {
	case background >= head && background >= stem:
		return Background
	case head >= stem:
		return Head
	default:
		return Stem
	}
}

// set makes label win in cell i, as clearly as the present label did.
func (p *proposal) set(i int, label uint8) {
	now := p.label[i]
	p.logit[now][i], p.logit[label][i] = p.logit[label][i], p.logit[now][i]
	p.label[i] = label
}

// setAll sets a label in many cells.
func (p *proposal) setAll(cells []int, label uint8) {
	for _, i := range cells {
		p.set(i, label)
	}
}

// clear makes everything background.
func (p *proposal) clear() {
	for i, label := range p.label {
		if label != Background {
			p.set(i, Background)
		}
	}
}

// valveLabel returns head or stem for a cell, whichever the net finds more likely.
func (p *proposal) valveLabel(i int) uint8 {
	if p.logit[Stem][i] > p.logit[Head][i] {
		return Stem
	}
	return Head
}

// count returns the number of cells with a label.
func (p *proposal) count(label uint8) int {
	n := 0
	for _, l := range p.label {
		if l == label {
			n++
		}
	}
	return n
}

// centre returns the centre of cell i in photo pixels.
func (p *proposal) centre(i int) Point {
	return p.at(float64(i%p.Cols), float64(i/p.Cols))
}

// at returns the photo pixel of a place on the grid, where (c, r) is the centre of a cell.
func (e *Evidence) at(c, r float64) Point {
	return Point{e.Left + (c+0.5)*e.CellWidth - 0.5, e.Top + (r+0.5)*e.CellHeight - 0.5}
}
