package net

import "valvegrade/internal/raster"

// beside is a cell of one axis, how much the cells of another count there, and where its middle lies among them.
type beside struct {
	cell  int
	worth float32
	raster.Between
}

// alongside returns which of an axis' cells, of a size in pixels from a first pixel on, have their middle on another axis. The
// other's cells count in full but for a share of them at either end, the faded, where they count less and less.
func alongside(
	cells int, first, size float64, otherCells int, otherFirst, otherSize float64, faded float64,
) []beside {
	var places []beside
	for i := range cells {
		at := (first + (float64(i)+0.5)*size - otherFirst) / otherSize
		if at < 0 || at > float64(otherCells) {
			continue
		}
		worth := 1.0
		if inwards := min(at, float64(otherCells)-at) / float64(otherCells); inwards < faded {
			worth = inwards / faded
		}
		places = append(places, beside{i, float32(worth), raster.At(at-0.5, 0, otherCells-1)})
	}
	return places
}

// takeMap moves the cells of a map, by a share of the way at most, to those of another one; each has rows of this many columns.
func takeMap(values []float32, cols int, others []float32, otherCols int, rows, columns []beside, share float32) {
	for _, row := range rows {
		upper, lower := others[row.First*otherCols:][:otherCols], others[row.Second*otherCols:][:otherCols]
		for _, column := range columns {
			above, below := column.Of(upper), column.Of(lower)
			value := &values[row.cell*cols+column.cell]
			*value += share * row.worth * column.worth * (above + row.Share*(below-above) - *value)
		}
	}
}
