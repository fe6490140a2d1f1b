package deposit

import (
	"bytes"
	"image"

	"valvegrade/internal/raster"
	"valvegrade/pkg/region"
)

// classify returns the map of classes: the evidence's three ordinal logits, enlarged to the photo's pixels by bilinear
// interpolation between cell centres, each counted as a step when it and all before it are above 0. A step is never
// skipped: a pixel is heavy only where it is also at least film and at least medium.
func classify(mask *image.Gray, box image.Rectangle, e *region.Evidence) *image.Gray {
	size := mask.Rect.Size()
	classes := &image.Gray{
		Pix:    bytes.Repeat([]byte{NotValve}, size.X*size.Y),
		Stride: size.X,
		Rect:   image.Rectangle{Max: size},
	}
	columns := raster.Places(box.Min.X-int(e.Left), box.Max.X-int(e.Left), e.CellWidth, e.Cols)
	cells, ends := cellClasses(e), raster.Ends(columns)
	for i, row := range raster.Places(box.Min.Y-int(e.Top), box.Max.Y-int(e.Top), e.CellHeight, e.Rows) {
		y := box.Min.Y + i
		labels := mask.Pix[y*mask.Stride+box.Min.X:][:len(columns)]
		out := classes.Pix[y*classes.Stride+box.Min.X:][:len(columns)]
		upper, lower := cells[row.First*e.Cols:][:e.Cols], cells[row.Second*e.Cols:][:e.Cols]
		from := 0
		for _, to := range ends {
			at := &columns[from]
			class := upper[at.First]
			// Between four cells that agree nothing is computed: a mean of logits above 0 is above 0.
			agreed := class == upper[at.Second] && class == lower[at.First] && class == lower[at.Second]
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
func classBetween(e *region.Evidence, column, row raster.Between) uint8 {
	for k, logits := range e.Deposit {
		upper, lower := logits[row.First*e.Cols:][:e.Cols], logits[row.Second*e.Cols:][:e.Cols]
		left := upper[column.First] + row.Share*(lower[column.First]-upper[column.First])
		right := upper[column.Second] + row.Share*(lower[column.Second]-upper[column.Second])
		if left+column.Share*(right-left) <= 0 {
			return uint8(k)
		}
	}
	return Heavy
}
