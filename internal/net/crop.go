package net

import "valvegrade/internal/raster"

// grid is the part of the net's maps that a photo covers: cols x rows cells, upright, without margin.
type grid struct {
	cols, rows int
	place      placement
	// columns and lines give, for each cell of the content before it is turned back, the two map columns (rows) to mix.
	columns, lines []raster.Between
}

// crop returns the grid of a placed photo. Where the content starts and ends at whole cells, map cells are taken as
// they are; else they are blended, so that the grid's outer edges are the photo's edges to the sub-pixel.
func crop(p placement) grid {
	g := grid{place: p, columns: axis(p.left, p.width), lines: axis(p.top, p.height)}
	g.cols, g.rows = len(g.columns), len(g.lines)
	if p.turned {
		g.cols, g.rows = g.rows, g.cols
	}
	return g
}

// axis cuts the content [start, start+size) of a frame axis into equal cells of about cellSize pixels.
func axis(start, size int) []raster.Between {
	cells := make([]raster.Between, max(1, (size+cellSize/2)/cellSize))
	step := float64(size) / float64(len(cells))
	// Only map cells whose centre lies in the content are used: the others saw mostly margin.
	first := start / cellSize
	last := max(first, (start+size-cellSize/2)/cellSize)
	for i := range cells {
		cells[i] = raster.At((float64(start)+(float64(i)+0.5)*step)/cellSize-0.5, first, last)
	}
	return cells
}

// take reads one map of mapCols x mapRows values and returns the photo's part of it, upright, row by row.
func (g grid) take(full []float32) []float32 {
	out := make([]float32, g.cols*g.rows)
	for y, line := range g.lines {
		upper, lower := full[line.First*mapCols:][:mapCols], full[line.Second*mapCols:][:mapCols]
		at, step := g.index(0, y), g.index(1, y)-g.index(0, y)
		for _, column := range g.columns {
			above := column.Of(upper)
			out[at] = above + line.Share*(column.Of(lower)-above)
			at += step
		}
	}
	return out
}

// index returns the place of content cell (x, y) in the upright grid.
func (g grid) index(x, y int) int {
	if g.place.turned {
		x, y = y, len(g.columns)-1-x
	}
	return y*g.cols + x
}
