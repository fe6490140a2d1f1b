package measure

// Decimals of written values: fine enough that rounding never matters, coarse enough that the last bit of a sum does
// not.
const (
	// PointDecimals are those of index and coverage, 0 to 100, and of differences between them.
	PointDecimals = 2
	// ShareDecimals are those of the shares of the deposit classes, 0 to 1.
	ShareDecimals = 6
)

// Written is a Figure in a document that names it by a key of its own.
type Written struct {
	Value Number `json:"value"`
	Low   Number `json:"low"`
	High  Number `json:"high"`
}

// Write returns the written form to the given number of decimals.
func (f Figure) Write(decimals int) Written {
	return Written{Rounded(f.Value, decimals), Rounded(f.Low, decimals), Rounded(f.High, decimals)}
}

// Figure reads the written form.
func (w Written) Figure() Figure { return Figure{w.Value.Value(), w.Low.Value(), w.High.Value()} }

// WrittenIndex is a deposit index among the keys of a document that embeds it.
type WrittenIndex struct {
	Index     Number `json:"index"`
	IndexLow  Number `json:"index_low"`
	IndexHigh Number `json:"index_high"`
}

// WriteIndex returns the written form of a deposit index.
func WriteIndex(f Figure) WrittenIndex {
	w := f.Write(PointDecimals)
	return WrittenIndex{w.Value, w.Low, w.High}
}

// IndexFigure reads the written form.
func (w WrittenIndex) IndexFigure() Figure { return Written{w.Index, w.IndexLow, w.IndexHigh}.Figure() }

// WrittenDark is a dark deposit among the keys of a document that embeds it; null in results of versions that had none.
type WrittenDark struct {
	Dark     Number `json:"dark"`
	DarkLow  Number `json:"dark_low"`
	DarkHigh Number `json:"dark_high"`
}

// WriteDark returns the written form of a dark deposit.
func WriteDark(f Figure) WrittenDark {
	w := f.Write(PointDecimals)
	return WrittenDark{w.Value, w.Low, w.High}
}

// DarkFigure reads the written form.
func (w WrittenDark) DarkFigure() Figure { return Written{w.Dark, w.DarkLow, w.DarkHigh}.Figure() }

// WrittenCoverage is a coverage among the keys of a document that embeds it.
type WrittenCoverage struct {
	Coverage     Number `json:"coverage"`
	CoverageLow  Number `json:"coverage_low"`
	CoverageHigh Number `json:"coverage_high"`
}

// WriteCoverage returns the written form of a coverage.
func WriteCoverage(f Figure) WrittenCoverage {
	w := f.Write(PointDecimals)
	return WrittenCoverage{w.Value, w.Low, w.High}
}

// CoverageFigure reads the written form.
func (w WrittenCoverage) CoverageFigure() Figure {
	return Written{w.Coverage, w.CoverageLow, w.CoverageHigh}.Figure()
}

// WrittenShares are Shares in a document.
type WrittenShares struct {
	Bare   Number `json:"bare"`
	Film   Number `json:"film"`
	Medium Number `json:"medium"`
	Heavy  Number `json:"heavy"`
}

// Write returns the written form.
func (s Shares) Write() WrittenShares {
	share := func(v float64) Number { return Rounded(v, ShareDecimals) }
	return WrittenShares{share(s.Bare), share(s.Film), share(s.Medium), share(s.Heavy)}
}

// Shares reads the written form.
func (w WrittenShares) Shares() Shares {
	return Shares{w.Bare.Value(), w.Film.Value(), w.Medium.Value(), w.Heavy.Value()}
}
