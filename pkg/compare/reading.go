package compare

import (
	"valvegrade/pkg/deposit"
	"valvegrade/pkg/measure"
)

// reading takes one figure out of draws, a reading or shares.
type reading struct {
	drawn func(deposit.Draws) []float64
	whole func(measure.Reading) measure.Figure
	part  func(measure.Shares) float64
}

var (
	indexReading = reading{
		func(d deposit.Draws) []float64 { return d.Index },
		func(r measure.Reading) measure.Figure { return r.Index }, measure.Shares.Index,
	}
	darkReading = reading{
		func(d deposit.Draws) []float64 { return d.Dark },
		func(r measure.Reading) measure.Figure { return r.Dark }, measure.Shares.Dark,
	}
	coverageReading = reading{
		func(d deposit.Draws) []float64 { return d.Coverage },
		func(r measure.Reading) measure.Figure { return r.Coverage }, measure.Shares.Coverage,
	}
)
