package deposit

import (
	"image"
	"math"
	"slices"

	"valvegrade/pkg/region"
)

// cell is one cell of the evidence that is, or might be, part of the valve.
type cell struct {
	steps [3]float32 // logits of at least film, at least medium, heavy
	// edge is how far, in logits of the region, the cell lies inside the outline, negative outside: as much as the net
	// is sure of either side, whichever the mask chose.
	edge float32
	// weight is the readable share of the cell, 0 to wholeCell.
	weight int
}

// probed is what the masks show in a cell: its label, and its weight.
type probed struct {
	weight int32
	label  uint8
}

// wholeCell is the weight of a cell of which all is readable. Weights are whole numbers, so sums do not depend on their
// order.
const wholeCell = 1 << 16

// cellBlock holds neighbouring cells, which err together, by region.
type cellBlock struct{ head, stem cells }

// cells are those that a draw may move, and by class the weight of those that none does.
type cells struct {
	open    []cell
	settled [4]int
}

// reach is how many cells beyond the mask an uncertain outline may take in.
const reach = 2

// probes is the number of places per side at which a cell is compared with the masks.
const probes = 4

// mostCells is about how many cells are repeated in every draw: of larger valves only every n-th, which changes the
// spread of the draws little, because the blocks stay.
const mostCells = 2500

// cellsOf collects the cells of the valve and those close around it, by block of the given side.
func cellsOf(r *region.Region, classes *image.Gray, side int) []cellBlock {
	e := r.Evidence
	near := cellsAround(r.Bounds(), e)
	grid, count := probeAll(r, classes, near)
	across := (near.Dx() + side - 1) / side
	blocks := make([]cellBlock, across*((near.Dy()+side-1)/side))
	step, next := max(1, count/mostCells), 0
	for row := near.Min.Y; row < near.Max.Y; row++ {
		for col := near.Min.X; col < near.Max.X; col++ {
			seen := grid[row*e.Cols+col]
			if seen.label == region.Background && !valveAround(grid, near, e.Cols, col, row) {
				continue
			}
			if next++; next%step != 0 {
				continue
			}
			c, label := withEvidence(seen, e, row*e.Cols+col)
			block := &blocks[(row-near.Min.Y)/side*across+(col-near.Min.X)/side]
			if label == region.Head {
				block.head.open = append(block.head.open, c)
			} else {
				block.stem.open = append(block.stem.open, c)
			}
		}
	}
	return slices.DeleteFunc(blocks, func(b cellBlock) bool { return len(b.head.open)+len(b.stem.open) == 0 })
}

// cellsAround returns the cells that a box of the photo touches, and those within reach of them.
func cellsAround(box image.Rectangle, e *region.Evidence) image.Rectangle {
	box = box.Sub(e.Window().Min)
	left, top := int(float64(box.Min.X)/e.CellWidth), int(float64(box.Min.Y)/e.CellHeight)
	right, bottom := int(float64(box.Max.X-1)/e.CellWidth), int(float64(box.Max.Y-1)/e.CellHeight)
	return image.Rect(left, top, right+1, bottom+1).Inset(-reach).Intersect(image.Rect(0, 0, e.Cols, e.Rows))
}

// probeAll compares the cells within near with the masks and counts those of the valve.
func probeAll(r *region.Region, classes *image.Gray, near image.Rectangle) (grid []probed, count int) {
	e, size := r.Evidence, r.Mask.Rect.Size()
	window := e.Window()
	columns := placesOf(e.Cols, e.CellWidth, window.Min.X, size.X)
	rows := placesOf(e.Rows, e.CellHeight, window.Min.Y, size.Y)
	grid = make([]probed, e.Cols*e.Rows)
	for row := near.Min.Y; row < near.Max.Y; row++ {
		for col := near.Min.X; col < near.Max.X; col++ {
			c := probe(r.Mask, classes, &columns[col], &rows[row])
			grid[row*e.Cols+col] = c
			if c.label != region.Background {
				count++
			}
		}
	}
	return grid, count
}

// placesOf returns the pixels of an axis at which each of its cells, the first of which begins at a pixel, is compared.
func placesOf(cells int, size float64, first, pixels int) [][probes]int {
	places := make([][probes]int, cells)
	for i := range places {
		for j := range probes {
			places[i][j] = min(pixels-1, first+int((float64(i)+(float64(j)+0.5)/probes)*size))
		}
	}
	return places
}

// probe compares a cell with the masks: its label is that of most places, its weight the readable share of those.
func probe(mask, classes *image.Gray, columns, rows *[probes]int) probed {
	head, stem, readable := 0, 0, 0
	for _, y := range rows {
		labels, seen := mask.Pix[y*mask.Stride:][:mask.Stride], classes.Pix[y*classes.Stride:][:classes.Stride]
		for _, x := range columns {
			label := labels[x]
			head += one(label == region.Head)
			stem += one(label == region.Stem)
			readable += one(label != region.Background) & one(seen[x] <= Heavy)
		}
	}
	if 2*(head+stem) < probes*probes {
		return probed{wholeCell, region.Background}
	}
	weight := int32(wholeCell * readable / (head + stem))
	if stem > head {
		return probed{weight, region.Stem}
	}
	return probed{weight, region.Head}
}

// withEvidence adds what the net says of the cell; a cell outside the mask gets the label it would have inside.
func withEvidence(seen probed, e *region.Evidence, at int) (c cell, label uint8) {
	c.weight = int(seen.weight)
	for k := range c.steps {
		c.steps[k] = e.Deposit[k][at]
	}
	head, stem := e.Region[region.Head][at], e.Region[region.Stem][at]
	sure := max(head, stem) - e.Region[region.Background][at]
	c.edge = max(sure, -sure)
	if seen.label != region.Background {
		return c, seen.label
	}
	// A cell outside stays out while the outline does not move, even one that the net is not sure about at all.
	c.edge = math.Nextafter32(-c.edge, float32(math.Inf(-1)))
	if stem > head {
		return c, region.Stem
	}
	return c, region.Head
}

// valveAround reports whether a cell of the valve lies within reach.
func valveAround(grid []probed, near image.Rectangle, cols, col, row int) bool {
	around := image.Rect(col-reach, row-reach, col+reach+1, row+reach+1).Intersect(near)
	for y := around.Min.Y; y < around.Max.Y; y++ {
		for x := around.Min.X; x < around.Max.X; x++ {
			if grid[y*cols+x].label != region.Background {
				return true
			}
		}
	}
	return false
}
