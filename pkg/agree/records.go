package agree

import "valvegrade/pkg/measure"

func (p Proportion) record() shareRecord {
	return shareRecord{p.Count, p.Of, p.Write(shareDecimals)}
}

func (k Kappa) record() kappaRecord {
	return kappaRecord{k.Write(shareDecimals), measure.Rounded(k.SE, shareDecimals)}
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
		Bias:        l.Bias.Write(measure.PointDecimals),
		SD:          measure.Rounded(l.SD, measure.PointDecimals),
		Lower:       l.Lower.Write(measure.PointDecimals),
		Upper:       l.Upper.Write(measure.PointDecimals),
		Concordance: c.Write(shareDecimals),
		Pearson:     measure.Rounded(c.Pearson, shareDecimals),
	}
}

func (c ICC) record() *iccRecord {
	return &iccRecord{
		Photos:        c.Items,
		OneWaySingle:  c.OneWaySingle.Write(shareDecimals),
		RandomSingle:  c.RandomSingle.Write(shareDecimals),
		FixedSingle:   c.FixedSingle.Write(shareDecimals),
		OneWayAverage: c.OneWayAverage.Write(shareDecimals),
		RandomAverage: c.RandomAverage.Write(shareDecimals),
		FixedAverage:  c.FixedAverage.Write(shareDecimals),
	}
}

func (r RaterRepeat) record() repeatRecord {
	return repeatRecord{
		Rater: r.Rater, Of: r.Of, Valves: r.Items, Ratings: r.Ratings,
		SD:                 r.SD.Write(measure.PointDecimals),
		Limit:              measure.Rounded(r.Limit, measure.PointDecimals),
		SmallestDetectable: measure.Rounded(r.SmallestDetectable, measure.PointDecimals),
	}
}
