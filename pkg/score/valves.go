package score

import (
	"cmp"
	"image"
	"slices"

	"valvegrade/pkg/deposit"
	"valvegrade/pkg/region"
)

// alone is what a photo has that is refused as a whole.
func alone(r *Result) []*Result { return []*Result{r} }

// judged returns the results of a photo's valves: all of them where one was scored, so that each keeps its place, else
// the refusal of the largest, which speaks for the photo.
func judged(valves []*Result) []*Result {
	if len(graded(valves)) > 0 {
		return valves
	}
	largest := Largest(valves)
	largest.Valve, largest.Valves = 1, 1
	return alone(largest)
}

// graded returns the valves that were scored, the largest first.
func graded(valves []*Result) []*Result {
	scored := slices.DeleteFunc(slices.Clone(valves), func(r *Result) bool { return r.Status != Scored })
	slices.SortStableFunc(scored, bySize)
	return scored
}

// Largest returns the result of the valve that takes the most of its photo, the principal one; valves are at least one.
func Largest(valves []*Result) *Result { return slices.MinFunc(valves, bySize) }

// bySize orders valves by how much of the photo they take, the largest first.
func bySize(a, b *Result) int { return cmp.Compare(b.pixels(), a.pixels()) }

func (r *Result) pixels() int {
	if r.Region == nil {
		return 0
	}
	return r.Region.HeadPixels + r.Region.StemPixels
}

// RegionMask shows where the scored valves of a photo are: 0 background, 1 head and 2 stem of the largest, 3 and 4 of
// the next, and so on. It has the size of Region.Mask, and is nil where none was scored. The picture of a single valve
// is its own mask and not to be changed.
func RegionMask(valves []*Result) *image.Gray { return regionMask(graded(valves)) }

// DepositMask shows the deposit classes of all scored valves of a photo (package deposit), in the same way.
func DepositMask(valves []*Result) *image.Gray { return depositMask(graded(valves)) }

func regionMask(bySize []*Result) *image.Gray {
	return layered(bySize, region.Background, func(r *Result) *image.Gray { return r.Region.Mask },
		func(label uint8, place int) uint8 { return label + uint8(2*place) })
}

func depositMask(bySize []*Result) *image.Gray {
	return layered(bySize, deposit.NotValve, func(r *Result) *image.Gray { return r.Deposit.Map },
		func(class uint8, _ int) uint8 { return class })
}

// layered lays the pictures of valves on each other, the largest, which come first, on top; value is what a value of
// the valve at a place counted from 0 becomes, and nothing what no valve has.
func layered(
	bySize []*Result,
	nothing uint8,
	picture func(*Result) *image.Gray,
	value func(of uint8, place int) uint8,
) *image.Gray {
	switch len(bySize) {
	case 0:
		return nil
	case 1:
		return picture(bySize[0])
	}
	all := image.NewGray(picture(bySize[0]).Rect)
	for i := range all.Pix {
		all.Pix[i] = nothing
	}
	for place, r := range slices.Backward(bySize) {
		one := picture(r)
		for i, of := range one.Pix {
			if of != nothing {
				all.Pix[i] = value(of, place)
			}
		}
	}
	return all
}
