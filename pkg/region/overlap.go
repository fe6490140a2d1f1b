package region

import (
	"image"
	"slices"
)

// IoU returns the intersection over union of the pixels that carry one of the labels in two masks of the same size:
// 0 (apart) to 1 (same), NaN when neither mask has any. It panics on masks of different sizes.
func IoU(a, b *image.Gray, labels ...uint8) float64 {
	both, either := overlap(a, b, labels)
	return float64(both) / float64(either)
}

func overlap(a, b *image.Gray, labels []uint8) (both, either int) {
	if a.Rect.Size() != b.Rect.Size() {
		panic("region: masks of different sizes")
	}
	var wanted [256]bool
	for v := range wanted {
		wanted[v] = slices.Contains(labels, uint8(v))
	}
	width := a.Rect.Dx()
	for y := range a.Rect.Dy() {
		rowA, rowB := a.Pix[y*a.Stride:][:width], b.Pix[y*b.Stride:][:width]
		for x := range rowA {
			inA, inB := wanted[rowA[x]], wanted[rowB[x]]
			if inA || inB {
				either++
			}
			if inA && inB {
				both++
			}
		}
	}
	return both, either
}

// shared counts the pixels within a box that are not background in both masks, which are of one size.
func shared(a, b *image.Gray, box image.Rectangle) int {
	both := 0
	for y := box.Min.Y; y < box.Max.Y; y++ {
		rowA, rowB := a.Pix[y*a.Stride:], b.Pix[y*b.Stride:]
		for x := box.Min.X; x < box.Max.X; x++ {
			if rowA[x] != Background && rowB[x] != Background {
				both++
			}
		}
	}
	return both
}

// subtract makes background of what within a box is not background in b, and reports whether that changed anything.
func subtract(a, b *image.Gray, box image.Rectangle) (changed bool) {
	for y := box.Min.Y; y < box.Max.Y; y++ {
		rowA, rowB := a.Pix[y*a.Stride:], b.Pix[y*b.Stride:]
		for x := box.Min.X; x < box.Max.X; x++ {
			if rowA[x] != Background && rowB[x] != Background {
				rowA[x], changed = Background, true
			}
		}
	}
	return changed
}
