package region

import "math"

// confidence returns the expected intersection over union of the valve mask with the truth, 0 to 1; 0 without a valve.
//
// Two opinions are mixed: the net's own expectation (Frame.Overlap), learnt from its errors in training, and the
// sharpness of this mask, the overlap to expect when every cell is valve with just the probability the net gives it.
// The second also falls when tidying took away or filled in what the net was sure of.
func (p *proposal) confidence() float64 {
	inside, sure, missed := 0, 0.0, 0.0
	for i, label := range p.label {
		valve := p.valveProbability(i)
		if label == Background {
			missed += valve
			continue
		}
		inside++
		sure += valve
	}
	if inside == 0 {
		return 0
	}
	sharpness := sure / (float64(inside) + missed)
	return overlapWeight*p.Frame.Overlap + (1-overlapWeight)*sharpness
}

// valveProbability returns the net's probability of head or stem in a cell, as it was before tidying.
func (p *proposal) valveProbability(i int) float64 {
	background := float64(p.Region[Background][i])
	head, stem := float64(p.Region[Head][i])-background, float64(p.Region[Stem][i])-background
	return 1 - 1/(1+math.Exp(head)+math.Exp(stem))
}
