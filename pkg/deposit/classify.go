package deposit

import (
	"bytes"
	"image"

	"valvegrade/pkg/region"
)

// classify returns the map of classes: the evidence's three ordinal logits, enlarged to the photo's pixels by bilinear interpolation
// between cell centres, each counted as a step when it and all before it are above 0. A step is never skipped: a
// pixel is heavy only where it is also at least film and at least medium.
func classify(mask *image.Gray, box image.Rectangle, e *region.Evidence) *image.Gray {
	size := mask.Rect.Size()
	classes := &image.Gray{Pix: bytes.Repeat([]byte{NotValve}, size.X*size.Y), Stride: size.X, Rect: image.Rectangle{Max: size}}
	columns := placesBetween(box.Min.X, box.Max.X, e.CellWidth, e.Cols)
	rows := placesBetween(box.Min.Y, box.Max.Y, e.CellHeight, e.Rows)
	cells, ends := cellClasses(e), endsOf(columns)
	for i, row := range rows {
		y := box.Min.Y + i
		labels := mask.Pix[y*mask.Stride+box.Min.X:][:len(columns)]
		out := classes.Pix[y*classes.Stride+box.Min.X:][:len(columns)]
		upper, lower := cells[row.cell*e.Cols:][:e.Cols], cells[row.next*e.Cols:][:e.Cols]
		from := 0
		for _, to := range ends {
			at := &columns[from]
			class := upper[at.cell]
			// Between four cells that agree nothing is computed: a mean of logits above 0 is above 0.
			agreed := class == upper[at.next] && class == lower[at.cell] && class == lower[at.next]
			for j, label := range labels[from:to] {
				if label == region.Background {
					continue
				}
				if !agreed {
					class = classBetween(e, columns[from+j], row)
				}
				out[from+j] = class
			}
			from = to
		}
	}
	return classes
}

// endsOf returns where each run of places between the same two cells ends.
func endsOf(places []place) []int {
	var ends []int
	for i := range places {
		if i+1 == len(places) || places[i+1].cell != places[i].cell {
			ends = append(ends, i+1)
		}
	}
	return ends
}

// cellClasses returns the classes of the cells themselves.
func cellClasses(e *region.Evidence) []uint8 {
	classes := make([]uint8, e.Cols*e.Rows)
	for i := range classes {
		for classes[i] < Heavy && e.Deposit[classes[i]][i] > 0 {
			classes[i]++
		}
	}
	return classes
}

// classBetween counts the steps passed at a place between columns and rows of cells.
func classBetween(e *region.Evidence, column, row place) uint8 {
	for k, logits := range e.Deposit {
		upper, lower := logits[row.cell*e.Cols:][:e.Cols], logits[row.next*e.Cols:][:e.Cols]
		left := upper[column.cell] + row.share*(lower[column.cell]-upper[column.cell])
		right := upper[column.next] + row.share*(lower[column.next]-upper[column.next])
		if left+column.share*(right-left) <= 0 {
			return uint8(k)
		}
	}
	return Heavy
}

// place lies between the centres of a cell and the next one, at a share of the way, 0 to 1.
type place struct {
	cell, next int
	share      float32
}

// placesBetween locates the pixels from first up to end among cells of the given size, numbered 0 to cells-1. Before the first
// centre and after the last one the outermost cell holds.
func placesBetween(first, end int, size float64, cells int) []place {
	places := make([]place, end-first)
	for i := range places {
		at := (float64(first+i)+0.5)/size - 0.5
		at = max(0, min(at, float64(cells-1)))
		cell := int(at)
		places[i] = place{cell, min(cell+1, cells-1), float32(at - float64(cell))}
	}
	return places
}
