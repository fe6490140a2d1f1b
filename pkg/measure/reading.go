package measure

// Reading is what there is to say of the deposit on a valve, or on a part of it: figures from 0 to 100.
type Reading struct {
	// Index is the deposit index, Dark the dark deposit: the percentage of readable pixels that carry crust, medium or
	// heavy. Coverage is the percentage that carries any deposit.
	Index, Dark, Coverage Figure
}

// NoReading is that of nothing.
func NoReading() Reading { return Reading{Unmeasured(), Unmeasured(), Unmeasured()} }

// Reading returns the figures of the shares without doubt, or while their intervals are still to be found.
func (s Shares) Reading() Reading {
	return Reading{Exactly(s.Index()), Exactly(s.Dark()), Exactly(s.Coverage())}
}

// WrittenReading is a Reading among the keys of a document that embeds it.
type WrittenReading struct {
	WrittenIndex
	WrittenDark
	WrittenCoverage
}

// Write returns the written form.
func (r Reading) Write() WrittenReading {
	return WrittenReading{WriteIndex(r.Index), WriteDark(r.Dark), WriteCoverage(r.Coverage)}
}

// Reading reads the written form.
func (w WrittenReading) Reading() Reading {
	return Reading{w.IndexFigure(), w.DarkFigure(), w.CoverageFigure()}
}
