package raster

// Between is a place between the centres of two neighbouring cells of an axis, at a share of the way from the first to
// the second, 0 to 1. Before the first centre and after the last one the outermost cell holds.
type Between struct {
	First, Second int
	Share         float32
}

// At returns the place at a position in which cell i has its centre at i, among the cells first to last.
func At(position float64, first, last int) Between {
	position = min(max(position, float64(first)), float64(last))
	cell := int(position)
	return Between{cell, min(cell+1, last), float32(position - float64(cell))}
}

// Of returns the value at the place among those of an axis' cells.
func (b Between) Of(cells []float32) float32 {
	return cells[b.First] + b.Share*(cells[b.Second]-cells[b.First])
}

// Places returns where the pixels from first up to end, numbered along an axis, lie among its cells, each that many
// pixels wide.
func Places(first, end int, cellSize float64, cells int) []Between {
	places := make([]Between, end-first)
	for i := range places {
		places[i] = At((float64(first+i)+0.5)/cellSize-0.5, 0, cells-1)
	}
	return places
}

// Ends returns where each run of places between the same two cells ends.
func Ends(places []Between) []int {
	var ends []int
	for i := range places {
		if i+1 == len(places) || places[i+1].First != places[i].First {
			ends = append(ends, i+1)
		}
	}
	return ends
}
