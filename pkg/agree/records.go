package agree

import "valvegrade/internal/number"

func (p Proportion) record() shareRecord {
	return shareRecord{p.Count, p.Of, rangeOf(p.Share, p.Low, p.High, shareDecimals)}
}

func (k Kappa) record() kappaRecord {
	return kappaRecord{rangeOf(k.Value, k.Low, k.High, shareDecimals), number.Known(k.SE, shareDecimals)}
}

func (p Pair) record() pairRecord {
	r := pairRecord{
		First: p.First, Second: p.Second, Photos: p.Photos, Table: p.Table,
		Same: p.Same.record(), WithinOne: p.WithinOne.record(),
		KappaQuadratic: p.Quadratic.record(), KappaLinear: p.Linear.record(), KappaUnweighted: p.Unweighted.record(),
	}
	if p.Index != nil {
		r.Index = p.Index.record()
	}
	return r
}

func (p IndexPair) record() *indexRecord {
	l, c := p.Limits, p.Concordance
	return &indexRecord{
		Photos:      l.Pairs,
		Bias:        rangeOf(l.Bias, l.BiasLow, l.BiasHigh, pointDecimals),
		SD:          number.Known(l.SD, pointDecimals),
		Lower:       rangeOf(l.Lower, l.LowerLow, l.LowerHigh, pointDecimals),
		Upper:       rangeOf(l.Upper, l.UpperLow, l.UpperHigh, pointDecimals),
		Concordance: rangeOf(c.Value, c.Low, c.High, shareDecimals),
		Pearson:     number.Known(c.Pearson, shareDecimals),
	}
}

func (c Correlation) record() rangeRecord { return rangeOf(c.Value, c.Low, c.High, shareDecimals) }

func (c ICC) record() *iccRecord {
	return &iccRecord{
		Photos:       c.Items,
		OneWaySingle: c.OneWaySingle.record(), RandomSingle: c.RandomSingle.record(), FixedSingle: c.FixedSingle.record(),
		OneWayAverage: c.OneWayAverage.record(), RandomAverage: c.RandomAverage.record(), FixedAverage: c.FixedAverage.record(),
	}
}

func (r RaterRepeat) record() repeatRecord {
	return repeatRecord{
		Rater: r.Rater, Of: r.Of, Valves: r.Items, Ratings: r.Ratings,
		SD:                 rangeOf(r.SD, r.SDLow, r.SDHigh, pointDecimals),
		Limit:              number.Known(r.Limit, pointDecimals),
		SmallestDetectable: number.Known(r.SmallestDetectable, pointDecimals),
	}
}
