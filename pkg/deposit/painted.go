package deposit

import (
	"image"

	"valvegrade/pkg/grade"
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
// valve. The probabilities of the grades and the build-up are what these intervals say: the net's opinion of the grade
// was formed on what it saw, not on what was painted.
func (d *Deposit) trust(painted float64) {
	if d.Painted = painted; painted == 0 {
		return
	}
	for _, f := range []*Figures{&d.Both, d.Head, d.Stem} {
		if f == nil {
			continue
		}
		for _, figure := range []*measure.Figure{&f.Index, &f.Dark, &f.Coverage} {
			*figure = trusted(*figure, painted)
		}
		f.Reading = f.Consistent()
	}
	d.Draws.trust(d.Both.Reading, painted)
	d.Grades = grade.OfInterval(d.Both.Index)
	d.Heavy = MostlyHeavy{trusted(d.Heavy.Share, painted), d.Heavy.Chance}
	switch share := d.Heavy.Share; {
	case share.Low >= 50:
		d.Heavy.Chance = 1
	case share.High < 50:
		d.Heavy.Chance = 0
	case share.Known():
		d.Heavy.Chance = 0.5
	}
	d.BuildUp = BuildUpOf(d.Heavy.Chance, d.Both.Dark)
}

func trusted(f measure.Figure, painted float64) measure.Figure {
	if !f.Known() {
		return f
	}
	return measure.Figure{
		Value: f.Value,
		Low:   max(0, f.Value-(f.Value-f.Low)*(1-painted)-handError*painted),
		High:  min(100, f.Value+(f.High-f.Value)*(1-painted)+handError*painted),
	}
}
