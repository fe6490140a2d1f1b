package region

import (
	"image"
	"math"

	"valvegrade/internal/raster"
)

// tally is what one pass over a mask tells about one label.
type tally struct {
	pixels int
	sumX   int
	sumY   int
	box    image.Rectangle
	edge   int // pixels on the edge of the photo; a corner counts once
}

// census holds the tallies by label; that of the background stays empty.
type census [3]tally

func takeCensus(mask *image.Gray) *census {
	var c census
	width, height := mask.Rect.Dx(), mask.Rect.Dy()
	for y := range height {
		row := mask.Pix[y*mask.Stride:][:width]
		for from := 0; from < width; {
			to := raster.RunEnd(row, from)
			if label := row[from]; label != Background {
				c[label].addRun(from, to, y, width, height)
			}
			from = to
		}
	}
	return &c
}

// addRun counts the pixels [from, to) of row y.
func (t *tally) addRun(from, to, y, width, height int) {
	n := to - from
	t.pixels += n
	t.sumX += n * (from + to - 1) / 2
	t.sumY += n * y
	t.box = t.box.Union(image.Rect(from, y, to, y+1))
	switch {
	case y == 0 || y == height-1:
		t.edge += n
	default:
		if from == 0 {
			t.edge++
		}
		if to == width && width > 1 {
			t.edge++
		}
	}
}

// centroid returns the centre of gravity; NaN without pixels.
func (t *tally) centroid() Point {
	return Point{float64(t.sumX) / float64(t.pixels), float64(t.sumY) / float64(t.pixels)}
}

// beyond returns about which share of the shape lies beyond the edge of the photo, 0 to 0.5: what a chord as long as
// the run along the edge cuts off a disc of the visible area.
func (t *tally) beyond() float64 {
	if t.pixels == 0 {
		return 0
	}
	radius := math.Sqrt(float64(t.pixels) / math.Pi)
	half := math.Asin(min(1, float64(t.edge)/2/radius)) // angle that half the chord subtends
	return (half - math.Sin(half)*math.Cos(half)) / math.Pi
}
