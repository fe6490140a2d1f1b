package compare

import (
	"valvegrade/pkg/deposit"
	"valvegrade/pkg/unroll"
)

// Maps have the size of package unroll.
const (
	columns  = unroll.Columns
	headRows = unroll.HeadRows
	rows     = unroll.Rows
)

// Residue is the map of a valve (package unroll) in two states, laid on each other.
type Residue struct {
	// Before and After hold for each cell a class of package deposit where both photos can be read, deposit.Unreadable
	// where only one shows it or can be read, and deposit.NotValve where neither shows it.
	Before, After []uint8
}

// overlay lays the second map on the first and returns what both show, with the weight of each cell: the mean of the
// shares that it takes of the readable valve in either photo.
func overlay(first, second *unroll.Map, a alignment) (r *Residue, weight []float64) {
	r = &Residue{Before: make([]uint8, rows*columns), After: make([]uint8, rows*columns)}
	weight = make([]float64, rows*columns)
	for cell := range r.Before {
		before, after := first.Class[cell], uint8(deposit.NotValve)
		other, ok := a.cell(cell)
		if ok {
			after = second.Class[other]
		}
		switch {
		case before <= deposit.Heavy && after <= deposit.Heavy:
			weight[cell] = (first.Weight[cell] + second.Weight[other]) / 2
		case before == deposit.NotValve && after == deposit.NotValve:
		default:
			before, after = deposit.Unreadable, deposit.Unreadable
		}
		r.Before[cell], r.After[cell] = before, after
	}
	return r, weight
}

// inBoth is the share of the valve that both photos show, by the weights of overlay. Where the foot was moved a cell of the
// second map may lie under several of the first, so that they can come to a little more than everything.
func inBoth(weight []float64) float64 { return min(sum(weight), 1) }
