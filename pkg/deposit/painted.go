package deposit

import (
	"image"

	"valvegrade/pkg/measure"
	"valvegrade/pkg/region"
)

// handError is half of the interval of a figure that was painted by hand, in points: trained raters work in steps of
// 5 % (common practice of engine-test deposit rating, from memory).
const handError = 5

// paint puts the classes that somebody painted into the map, glare and shadow included, and returns the share of the
// valve that was painted, 0 to 1.
func paint(classes *image.Gray, r *region.Region, box image.Rectangle) float64 {
	if r.Painted == nil {
		return 0
	}
	painted, all := 0, 0
	for y := box.Min.Y; y < box.Max.Y; y++ {
		for x := box.Min.X; x < box.Max.X; x++ {
			at := y*classes.Stride + x
			if r.Mask.Pix[at] == region.Background {
				continue
			}
			all++
			if code := r.Painted.Pix[at]; code != region.Unpainted {
				classes.Pix[at] = code
				painted++
			}
		}
	}
	return float64(painted) / float64(max(1, all))
}

// trust makes the intervals those of hand and program together: each half is the mean of both, by their shares of the
// valve.
func (d *Deposit) trust(painted float64) {
	if d.Painted = painted; painted == 0 {
		return
	}
	for _, f := range []*Figures{&d.Both, d.Head, d.Stem} {
		if f == nil {
			continue
		}
		for _, figure := range []*measure.Figure{&f.Index, &f.Coverage} {
			if !figure.Known() {
				continue
			}
			low, high := figure.Value-figure.Low, figure.High-figure.Value
			figure.Low = max(0, figure.Value-low*(1-painted)-handError*painted)
			figure.High = min(100, figure.Value+high*(1-painted)+handError*painted)
		}
	}
}
