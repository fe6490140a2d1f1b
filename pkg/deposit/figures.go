package deposit

import (
	"image"

	"valvegrade/internal/raster"
	"valvegrade/pkg/measure"
	"valvegrade/pkg/region"
)

// tally counts the pixels of a region by class.
type tally struct {
	classes    [4]int
	unreadable int
}

func (t tally) readable() int {
	return t.classes[Bare] + t.classes[Film] + t.classes[Medium] + t.classes[Heavy]
}

func (t tally) plus(u tally) tally {
	for class, count := range u.classes {
		t.classes[class] += count
	}
	t.unreadable += u.unreadable
	return t
}

// count tallies head and stem by the map of classes, so anyone who counts the pixels of the written maps gets the same
// figures.
func count(mask, classes *image.Gray, box image.Rectangle) (head, stem tally) {
	// Pixels come in long runs of one label and one class, which are counted at once.
	both := [3]tally{}
	for y := box.Min.Y; y < box.Max.Y; y++ {
		labels := mask.Pix[y*mask.Stride+box.Min.X:][:box.Dx()]
		row := classes.Pix[y*classes.Stride+box.Min.X:][:len(labels)]
		for from := 0; from < len(row); {
			label, class, to := labels[from], row[from], raster.RunEnd(row, from)
			if class != NotValve { // which has no labels to tell apart
				to = raster.RunEnd(labels[:to], from)
			}
			switch {
			case class <= Heavy:
				both[label].classes[class] += to - from
			case class == Unreadable:
				both[label].unreadable += to - from
			}
			from = to
		}
	}
	return both[region.Head], both[region.Stem]
}

// figures returns the figures of a tally with intervals of no width, or NaN where nothing is readable.
func (t tally) figures() Figures {
	f := Figures{Pixels: t.readable() + t.unreadable}
	f.Unreadable = float64(t.unreadable) / float64(f.Pixels)
	f.Shares = measure.SharesOf([4]float64{
		float64(t.classes[Bare]), float64(t.classes[Film]), float64(t.classes[Medium]), float64(t.classes[Heavy]),
	})
	f.Reading = f.Shares.Reading()
	return f
}
