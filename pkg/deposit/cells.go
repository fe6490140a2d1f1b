package deposit

import (
	"image"
	"math"

	"valvegrade/pkg/region"
)

// cell is one cell of the evidence that is, or might be, part of the valve.
type cell struct {
	steps [3]float64 // logits of at least film, at least medium, heavy
	// inside says on which side of the outline the cell is, sure how far the outline must move, in logits of the region, to
	// change that: as much as the net is sure of either side, whichever the mask chose.
	inside bool
	sure   float64
	// weight is the readable share of the cell, 0 to 1.
	weight float64
	label  uint8
}

// reach is how many cells beyond the mask an uncertain outline may take in.
const reach = 2

// probes is the number of places per side at which a cell is compared with the masks.
const probes = 4

// cellsOf collects the cells of the valve and those close around it, by block of the given side.
func cellsOf(r *region.Region, classes *image.Gray, side int) [][]cell {
	e := r.Evidence
	grid := make([]cell, e.Cols*e.Rows)
	var box image.Rectangle
	for row := range e.Rows {
		for col := range e.Cols {
			c := probe(r, classes, col, row)
			if c.label != region.Background {
				box = box.Union(image.Rect(col, row, col+1, row+1))
			}
			grid[row*e.Cols+col] = c
		}
	}
	near := box.Inset(-reach).Intersect(image.Rect(0, 0, e.Cols, e.Rows))
	across := (near.Dx() + side - 1) / side
	blocks := make([][]cell, across*((near.Dy()+side-1)/side))
	for row := near.Min.Y; row < near.Max.Y; row++ {
		for col := near.Min.X; col < near.Max.X; col++ {
			c := grid[row*e.Cols+col]
			if c.label == region.Background && !valveAround(grid, e.Cols, e.Rows, col, row) {
				continue
			}
			at := (row-near.Min.Y)/side*across + (col-near.Min.X)/side
			blocks[at] = append(blocks[at], withEvidence(c, e, row*e.Cols+col))
		}
	}
	return filled(blocks)
}

// probe compares a cell with the masks: its label is that of most places, its weight the readable share of those.
func probe(r *region.Region, classes *image.Gray, col, row int) cell {
	e, width, height := r.Evidence, r.Mask.Rect.Dx(), r.Mask.Rect.Dy()
	var labels, readable [3]int
	for i := range probes {
		y := min(height-1, int((float64(row)+(float64(i)+0.5)/probes)*e.CellHeight))
		for j := range probes {
			x := min(width-1, int((float64(col)+(float64(j)+0.5)/probes)*e.CellWidth))
			label := r.Mask.Pix[y*r.Mask.Stride+x]
			labels[label]++
			if classes.Pix[y*classes.Stride+x] <= Heavy {
				readable[label]++
			}
		}
	}
	switch valve := labels[region.Head] + labels[region.Stem]; {
	case 2*valve < probes*probes:
		return cell{label: region.Background, weight: 1}
	case labels[region.Head] >= labels[region.Stem]:
		return cell{label: region.Head, weight: float64(readable[region.Head]+readable[region.Stem]) / float64(valve)}
	default:
		return cell{label: region.Stem, weight: float64(readable[region.Head]+readable[region.Stem]) / float64(valve)}
	}
}

// withEvidence adds what the net says of the cell; a cell outside the mask gets the label it would have inside.
func withEvidence(c cell, e *region.Evidence, at int) cell {
	for k := range c.steps {
		c.steps[k] = float64(e.Deposit[k][at])
	}
	head, stem := float64(e.Region[region.Head][at]), float64(e.Region[region.Stem][at])
	c.sure = math.Abs(max(head, stem) - float64(e.Region[region.Background][at]))
	c.inside = c.label != region.Background
	if !c.inside {
		c.label = region.Head
		if stem > head {
			c.label = region.Stem
		}
	}
	return c
}

// valveAround reports whether a cell of the valve lies within reach.
func valveAround(grid []cell, cols, rows, col, row int) bool {
	for y := max(0, row-reach); y <= min(rows-1, row+reach); y++ {
		for x := max(0, col-reach); x <= min(cols-1, col+reach); x++ {
			if grid[y*cols+x].label != region.Background {
				return true
			}
		}
	}
	return false
}

func filled(blocks [][]cell) [][]cell {
	kept := blocks[:0]
	for _, b := range blocks {
		if len(b) > 0 {
			kept = append(kept, b)
		}
	}
	return kept
}
