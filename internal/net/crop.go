package net

import "math"

// grid is the part of the net's maps that a photo covers: cols x rows cells, upright, without margin.
type grid struct {
	cols, rows int
	place      placement
	// columns and lines give, for each cell of the content before it is turned back, the two map columns (rows) to mix.
	columns, lines []mix
}

// mix is a linear blend of two neighbours: (1-share)*first + share*second.
type mix struct {
	first, second int
	share         float32
}

// crop returns the grid of a placed photo. Where the content starts and ends at whole cells, map cells are taken as they
// are; else they are blended, so that the grid's outer edges are the photo's edges to the sub-pixel.
func crop(p placement) grid {
	g := grid{place: p, columns: axis(p.left, p.width), lines: axis(p.top, p.height)}
	g.cols, g.rows = len(g.columns), len(g.lines)
	if p.turned {
		g.cols, g.rows = g.rows, g.cols
	}
	return g
}

// axis cuts the content [start, start+size) of a frame axis into equal cells of about cellSize pixels.
func axis(start, size int) []mix {
	cells := make([]mix, max(1, (size+cellSize/2)/cellSize))
	step := float64(size) / float64(len(cells))
	// Only map cells whose centre lies in the content are used: the others saw mostly margin.
	first := start / cellSize
	last := max(first, (start+size-cellSize/2)/cellSize)
	for i := range cells {
		centre := (float64(start)+(float64(i)+0.5)*step)/cellSize - 0.5
		low := int(math.Floor(centre))
		share := centre - float64(low)
		cells[i] = mix{clamp(low, first, last), clamp(low+1, first, last), float32(share)}
	}
	return cells
}

func clamp(v, low, high int) int { return min(max(v, low), high) }

// take reads one map of mapCols x mapRows values and returns the photo's part of it, upright, row by row.
func (g grid) take(full []float32) []float32 {
	out := make([]float32, g.cols*g.rows)
	for y, line := range g.lines {
		upper, lower := full[line.first*mapCols:][:mapCols], full[line.second*mapCols:][:mapCols]
		at, step := g.index(0, y), g.index(1, y)-g.index(0, y)
		for _, column := range g.columns {
			above := upper[column.first] + column.share*(upper[column.second]-upper[column.first])
			below := lower[column.first] + column.share*(lower[column.second]-lower[column.first])
			out[at] = above + line.share*(below-above)
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
