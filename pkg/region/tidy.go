package region

// tidy leaves one valve in the proposal and nothing else: it smooths the outline, drops specks, fills holes and the
// rim, clears islands and takes stray cells off. It returns the head's ellipse, nil when none fits.
func (p *proposal) tidy() (head *Ellipse) {
	p.smooth()
	valves := p.parts(func(label uint8) bool { return label != Background }, true)
	if len(valves) == 0 {
		return nil
	}
	principal, rest := valves[0], valves[1:]
	labels := make([][]uint8, len(rest))
	for i, part := range rest {
		for _, cell := range part {
			labels[i] = append(labels[i], p.label[cell])
		}
		p.setAll(part, Background)
	}
	p.fillHoles(largestHole * float64(len(principal)))
	p.clearIslands(Stem, Head)
	p.clearIslands(Head, Stem)
	head = p.fitHead()
	stem := p.fitStem()
	for i, part := range rest {
		if !p.belongs(part, head, stem) {
			continue
		}
		for j, cell := range part {
			p.set(cell, labels[i][j])
		}
	}
	p.fillRim(head)
	p.trim(head, stem)
	return head
}

// fillHoles gives background that is enclosed by the valve, up to so many cells, to the valve.
func (p *proposal) fillHoles(most float64) {
	for _, hole := range p.parts(func(label uint8) bool { return label == Background }, false) {
		if float64(len(hole)) > most || touchesEdge(hole, p.Cols, p.Rows) {
			continue
		}
		for _, i := range hole {
			p.set(i, p.valveLabel(i))
		}
	}
}

// clearIslands turns parts of a label that are small against its largest part, and do not touch the background, into
// the label around them.
func (p *proposal) clearIslands(label, around uint8) {
	islands := p.parts(func(l uint8) bool { return l == label }, true)
	for k, part := range islands {
		if k > 0 && float64(len(part)) < islandShare*float64(len(islands[0])) && p.enclosed(part) {
			p.setAll(part, around)
		}
	}
}

// enclosed reports whether no cell of a part touches the background or the edge of the photo.
func (p *proposal) enclosed(part []int) bool {
	if touchesEdge(part, p.Cols, p.Rows) {
		return false
	}
	var near neighbourhood
	for _, i := range part {
		for _, j := range near.of(i, p.Cols, p.Rows, false) {
			if p.label[j] == Background {
				return false
			}
		}
	}
	return true
}

// belongs reports whether a part lies where the valve is known to be: inside the head's outline or in line with the
// stem.
func (p *proposal) belongs(part []int, head *Ellipse, stem *Line) bool {
	inside := 0
	for _, i := range part {
		c := p.centre(i)
		if head != nil && head.Level(c) <= 1 || stem != nil && stem.beside(c) <= besideStem*stem.Width {
			inside++
		}
	}
	return float64(inside) >= belongsShare*float64(len(part))
}

// trim takes head cells off that no valve can have there. A valve is a body of revolution with a hollow fillet, so it
// stays within the convex hull of its rim and its stem; without both there is nothing to go by.
func (p *proposal) trim(head *Ellipse, stem *Line) {
	if head == nil || stem == nil {
		return
	}
	generous := *head
	generous.A *= strayLevel
	generous.B *= strayLevel
	reach := stem.corners()
	corners := reach[:]
	for degrees := 0.0; degrees < 360; degrees += 5 {
		corners = append(corners, generous.At(degrees))
	}
	outline, circle := hull(corners), generous.circle()
	for i, label := range p.label {
		if label == Head && circle.of(p.centre(i)).length() > 1 && !within(p.centre(i), outline) {
			p.set(i, Background)
		}
	}
}
