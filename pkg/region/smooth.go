package region

import "math"

// smooth rounds the outline: how much surer the net is of valve than of background is blurred by a Gaussian whose sigma
// is a share of the valve's size, so that bays, necks and loops which no head of this size has are closed or cut
// through. The stem, too thin for that, stays as it is, and so does a small valve, of which the grid shows no detail to
// lose.
func (p *proposal) smooth() {
	radius := math.Sqrt(float64(p.count(Head)+p.count(Stem)) / math.Pi) // in cells
	sigma := smoothShare * radius
	passes := int(math.Round(2 * sigma * sigma)) // the weights 1 2 1 have variance 1/2
	if passes == 0 {
		return
	}
	valve := make([]float32, len(p.label))
	for i := range valve {
		// Bounded, lest one cell that is far surer than its neighbours outvote them.
		margin := max(p.logit[Head][i], p.logit[Stem][i]) - p.logit[Background][i]
		valve[i] = max(-surest, min(surest, margin))
	}
	for range passes {
		for y := range p.Rows {
			blurLine(valve[y*p.Cols:][:p.Cols], 1)
		}
		for x := range p.Cols {
			blurLine(valve[x:], p.Cols)
		}
	}
	for i, margin := range valve {
		if p.logit[Head][i] >= p.logit[Stem][i] {
			p.logit[Background][i] = p.logit[Head][i] - margin
		}
	}
	p.relabel()
}

// blurLine weights every step-th value and its two neighbours by 1 2 1; beyond the ends the outermost value goes on.
func blurLine(values []float32, step int) {
	before := values[0]
	for at := 0; at < len(values); at += step {
		now, next := values[at], values[at]
		if at+step < len(values) {
			next = values[at+step]
		}
		values[at] = (before + 2*now + next) / 4
		before = now
	}
}

// fillRim gives the head what the net is not sure about inside the fitted rim, where a valve is metal throughout and
// only something in front of it, which the net is sure about, is background.
func (p *proposal) fillRim(rim *Ellipse) {
	if rim == nil {
		return
	}
	circle := rim.circle()
	for i, label := range p.label {
		q := circle.of(p.centre(i))
		if label == Stem || max(q.X, -q.X, q.Y, -q.Y) >= 1 { // the latter lie outside, as most cells do
			continue
		}
		if depth := 1 - q.length(); depth > 0 {
			p.logit[Head][i] += rimFavour * float32(min(1, depth/rimRamp))
		}
	}
	p.relabel()
}

// relabel makes the labels follow the logits.
func (p *proposal) relabel() {
	for i := range p.label {
		p.label[i] = largest(p.logit[Background][i], p.logit[Head][i], p.logit[Stem][i])
	}
}
