package region

import (
	"cmp"
	"slices"

	"valvegrade/internal/raster"
)

// parts returns the connected parts of the cells that belong, each as the indices of its cells, the largest first and
// equals in reading order. Cells that touch at a corner are connected when corners is true.
func (p *proposal) parts(belongs func(label uint8) bool, corners bool) [][]int {
	cells := make([]uint8, len(p.label))
	for i, label := range p.label {
		if belongs(label) {
			cells[i] = 1
		}
	}
	var found [][]int
	for i := range cells {
		if cells[i] == 0 {
			continue
		}
		var part []int
		for _, cell := range raster.Flood(nil, cells, p.Cols, i, 0, corners) {
			part = append(part, int(cell))
		}
		found = append(found, part)
	}
	slices.SortStableFunc(found, func(a, b []int) int { return cmp.Compare(len(b), len(a)) })
	return found
}

// neighbourhood holds up to eight neighbours; a caller keeps one for all cells, which spares the memory of a slice
// each.
type neighbourhood [8]int

// of returns the neighbours of cell i, good until the next call.
func (n *neighbourhood) of(i, cols, rows int, corners bool) []int {
	found := n[:0]
	x, y := i%cols, i/cols
	if x > 0 && y > 0 && x < cols-1 && y < rows-1 {
		found = append(found, i-cols, i-1, i+1, i+cols)
		if corners {
			found = append(found, i-cols-1, i-cols+1, i+cols-1, i+cols+1)
		}
		return found
	}
	for dy := max(-1, -y); dy <= min(1, rows-1-y); dy++ {
		for dx := max(-1, -x); dx <= min(1, cols-1-x); dx++ {
			if (dx != 0 || dy != 0) && (corners || dx == 0 || dy == 0) {
				found = append(found, i+dy*cols+dx)
			}
		}
	}
	return found
}

// touchesEdge reports whether any cell of a part lies on the edge of the grid.
func touchesEdge(part []int, cols, rows int) bool {
	return slices.ContainsFunc(part, func(i int) bool {
		x, y := i%cols, i/cols
		return x == 0 || y == 0 || x == cols-1 || y == rows-1
	})
}
