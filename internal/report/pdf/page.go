package pdf

// page is what stands on one sheet of paper.
type page []placed

// placed is a block at a height below the top margin.
type placed struct {
	block
	y float64
}

// paginate lays blocks on pages of the given width and height. A block that does not fit begins a page; one that is
// higher than a page is divided where it can be.
func paginate(blocks []block, width, height float64) []page {
	p := pages{width: width, height: height, done: []page{nil}}
	for _, b := range blocks {
		p.put(b)
	}
	return p.done
}

type pages struct {
	width, height float64
	done          []page
	used          float64
}

func (p *pages) put(b block) {
	if y, ok := b.(yielding); ok {
		for _, part := range y.within(p.width, p.height-p.used) {
			p.put(part)
		}
		return
	}
	_, empty := b.(gap)
	high := b.height(p.width)
	switch {
	case empty && p.used == 0:
		return
	case p.used+high <= p.height:
		p.add(b, high)
		return
	case empty:
		p.used = p.height
		return
	}
	if parts := partsOf(b, p.width); high > p.height && len(parts) > 1 {
		for _, part := range parts {
			p.put(part)
		}
		return
	}
	p.turn()
	if row, ok := b.(continued); ok {
		head := row.above()
		p.add(head, head.height(p.width))
	}
	p.add(b, high)
}

func (p *pages) add(b block, high float64) {
	last := len(p.done) - 1
	p.done[last] = append(p.done[last], placed{b, p.used})
	p.used += high
}

// turn begins a page, unless one has just begun.
func (p *pages) turn() {
	if p.used > 0 {
		p.done = append(p.done, nil)
		p.used = 0
	}
}
