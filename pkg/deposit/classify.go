package deposit

import (
	"image"

	"valvegrade/pkg/region"
)

// classify returns the map of classes: the evidence's three ordinal logits, enlarged to the photo's pixels by bilinear interpolation
// between cell centres, each counted as a step when it and all before it are above 0. A step is never skipped: a
// pixel is heavy only where it is also at least film and at least medium.
func classify(mask *image.Gray, box image.Rectangle, e *region.Evidence) *image.Gray {
	classes := image.NewGray(image.Rect(0, 0, mask.Rect.Dx(), mask.Rect.Dy()))
	for i := range classes.Pix {
		classes.Pix[i] = NotValve
	}
	columns := placesBetween(box.Min.X, box.Max.X, e.CellWidth, e.Cols)
	rows := placesBetween(box.Min.Y, box.Max.Y, e.CellHeight, e.Rows)
	var steps [3][]float32
	for k := range steps {
		steps[k] = make([]float32, e.Cols+1)
	}
	for i, row := range rows {
		for k := range steps {
			row.between(steps[k], e.Deposit[k], e.Cols)
		}
		y := box.Min.Y + i
		labels := mask.Pix[y*mask.Stride+box.Min.X:][:len(columns)]
		out := classes.Pix[y*classes.Stride+box.Min.X:][:len(columns)]
		for j, at := range columns {
			if labels[j] != region.Background {
				out[j] = classAt(&steps, at)
			}
		}
	}
	return classes
}

// classAt counts the steps passed at a place along a row of cells.
func classAt(steps *[3][]float32, at place) uint8 {
	for k := range steps {
		left, right := steps[k][at.cell], steps[k][at.cell+1]
		if left+at.share*(right-left) <= 0 {
			return uint8(k)
		}
	}
	return Heavy
}

// place lies between the centres of a cell and the next one, at a share of the way, 0 to 1.
type place struct {
	cell  int
	share float32
}

// placesBetween locates the pixels from first up to end among cells of the given size, numbered 0 to cells-1. Before the first
// centre and after the last one the outermost cell holds.
func placesBetween(first, end int, size float64, cells int) []place {
	places := make([]place, end-first)
	for i := range places {
		at := (float64(first+i)+0.5)/size - 0.5
		at = max(0, min(at, float64(cells-1)))
		cell := int(at)
		places[i] = place{cell, float32(at - float64(cell))}
	}
	return places
}

// between fills target with the values of a row of cells at this place between rows; its spare last element repeats the last
// cell, for places at the outermost centre.
func (p place) between(target, cells []float32, cols int) {
	upper := cells[p.cell*cols : (p.cell+1)*cols]
	lower := upper
	if p.share > 0 {
		lower = cells[(p.cell+1)*cols : (p.cell+2)*cols]
	}
	for i := range upper {
		target[i] = upper[i] + p.share*(lower[i]-upper[i])
	}
	target[cols] = target[cols-1]
}
