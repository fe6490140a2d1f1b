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
	// edge is how far, in logits of the region, the cell lies inside the outline, negative outside: as much as the net is sure
	// of either side, whichever the mask chose.
	edge float32
	// weight is the readable share of the cell, 0 to wholeCell.
	weight int
	label  uint8
}

// wholeCell is the weight of a cell of which all is readable. Weights are whole numbers, so sums do not depend on their order.
const wholeCell = 1 << 16

// cellBlock holds neighbouring cells, which err together, by region.
type cellBlock struct{ head, stem []cell }

// reach is how many cells beyond the mask an uncertain outline may take in.
const reach = 2

// probes is the number of places per side at which a cell is compared with the masks.
const probes = 4

// mostCells is about how many cells are repeated in every draw: of larger valves only every n-th, which changes the spread of the
// draws little, because the blocks stay.
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
			c := grid[row*e.Cols+col]
			if c.label == region.Background && !valveAround(grid, near, e.Cols, col, row) {
				continue
			}
			if next++; next%step != 0 {
				continue
			}
			c = withEvidence(c, e, row*e.Cols+col)
			block := &blocks[(row-near.Min.Y)/side*across+(col-near.Min.X)/side]
			if c.label == region.Head {
				block.head = append(block.head, c)
			} else {
				block.stem = append(block.stem, c)
			}
		}
	}
	return slices.DeleteFunc(blocks, func(b cellBlock) bool { return len(b.head)+len(b.stem) == 0 })
}

// cellsAround returns the cells that a box of the photo touches, and those within reach of them.
func cellsAround(box image.Rectangle, e *region.Evidence) image.Rectangle {
	left, top := int(float64(box.Min.X)/e.CellWidth), int(float64(box.Min.Y)/e.CellHeight)
	right, bottom := int(float64(box.Max.X-1)/e.CellWidth), int(float64(box.Max.Y-1)/e.CellHeight)
	return image.Rect(left, top, right+1, bottom+1).Inset(-reach).Intersect(image.Rect(0, 0, e.Cols, e.Rows))
}

// probeAll compares the cells within near with the masks and counts those of the valve.
func probeAll(r *region.Region, classes *image.Gray, near image.Rectangle) (grid []cell, count int) {
	e, size := r.Evidence, r.Mask.Rect.Size()
	columns, rows := probed(e.Cols, e.CellWidth, size.X), probed(e.Rows, e.CellHeight, size.Y)
	grid = make([]cell, e.Cols*e.Rows)
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

// probed returns the pixels of an axis at which each of its cells is compared.
func probed(cells int, size float64, pixels int) [][probes]int {
	places := make([][probes]int, cells)
	for i := range places {
		for j := range probes {
			places[i][j] = min(pixels-1, int((float64(i)+(float64(j)+0.5)/probes)*size))
		}
	}
	return places
}

// probe compares a cell with the masks: its label is that of most places, its weight the readable share of those.
func probe(mask, classes *image.Gray, columns, rows *[probes]int) cell {
	var labels [3]int
	readable := 0
	for _, y := range rows {
		for _, x := range columns {
			label := mask.Pix[y*mask.Stride+x]
			labels[label]++
			readable += one(label != region.Background && classes.Pix[y*classes.Stride+x] <= Heavy)
		}
	}
	valve := labels[region.Head] + labels[region.Stem]
	if 2*valve < probes*probes {
		return cell{label: region.Background, weight: wholeCell}
	}
	c := cell{label: region.Head, weight: wholeCell * readable / valve}
	if labels[region.Stem] > labels[region.Head] {
		c.label = region.Stem
	}
	return c
}

// withEvidence adds what the net says of the cell; a cell outside the mask gets the label it would have inside.
func withEvidence(c cell, e *region.Evidence, at int) cell {
	for k := range c.steps {
		c.steps[k] = e.Deposit[k][at]
	}
	head, stem := e.Region[region.Head][at], e.Region[region.Stem][at]
	sure := max(head, stem) - e.Region[region.Background][at]
	c.edge = max(sure, -sure)
	if c.label == region.Background {
		// A cell outside stays out while the outline does not move, even one that the net is not sure about at all.
		c.edge = math.Nextafter32(-c.edge, float32(math.Inf(-1)))
		c.label = region.Head
		if stem > head {
			c.label = region.Stem
		}
	}
	return c
}

// valveAround reports whether a cell of the valve lies within reach.
func valveAround(grid []cell, near image.Rectangle, cols, col, row int) bool {
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
