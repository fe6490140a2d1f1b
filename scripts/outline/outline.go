// Package outline finds which outline of the program is of which valve that a set knows, for all programs that hold the
// one against the other: what the largest outline of a photo shows may be another valve than the one whose truth is known.
package outline

import (
	"image"

	"valvegrade/pkg/region"
)

// Valve keeps one valve of a mask in which 1 and 2 are head and stem of the first valve, 3 and 4 of the second, and so on,
// as score.RegionMask and the masks of sets have it: place counts them from 1. The result has the labels of package region.
func Valve(mask *image.Gray, place int) *image.Gray {
	one := image.NewGray(image.Rectangle{Max: mask.Rect.Size()})
	for y := range one.Rect.Dy() {
		from, to := mask.Pix[y*mask.Stride:], one.Pix[y*one.Stride:][:one.Rect.Dx()]
		for x := range to {
			switch int(from[x]) {
			case 2*place - 1:
				to[x] = region.Head
			case 2 * place:
				to[x] = region.Stem
			}
		}
	}
	return one
}

// Closest returns which of several outlines overlaps a valve most, head and stem taken together, of equals the first, and
// the overlap: intersection over union, 0 to 1. It is -1 and 0 where none touches the valve. All masks have the labels of
// package region; it panics on masks of different sizes.
func Closest(valve *image.Gray, outlines []*image.Gray) (place int, overlap float64) {
	place = -1
	for n, one := range outlines {
		if shared := region.IoU(valve, one, region.Head, region.Stem); shared > overlap {
			place, overlap = n, shared
		}
	}
	return place, overlap
}
