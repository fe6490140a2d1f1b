package region

import (
	"image"
	"math"
)

// onOutline is how far outside, in pixels, a centre still counts as on the outline: rounding must not decide.
const onOutline = 1e-9

// draw renders the outline: a pixel belongs to a shape when its centre lies inside or on the outline. The stem stands
// before the head.
func (o Outline) draw(width, height int) *image.Gray {
	mask := image.NewGray(image.Rect(0, 0, width, height))
	for y := range height {
		row := mask.Pix[y*mask.Stride:][:width]
		if from, to, ok := o.Head.span(float64(y)); ok {
			paint(row, from, to, Head)
		}
		if o.Stem != nil {
			if from, to, ok := o.Stem.span(float64(y)); ok {
				paint(row, from, to, Stem)
			}
		}
	}
	return mask
}

// paint labels the pixels whose centres lie in [from, to].
func paint(row []uint8, from, to float64, label uint8) {
	first, last := centres(from, to, len(row))
	for x := first; x <= last; x++ {
		row[x] = label
	}
}

// centres returns the first and the last of n pixels whose centres lie in [from, to]; first > last when there are none.
func centres(from, to float64, n int) (first, last int) {
	return int(math.Ceil(max(from-onOutline, 0))), int(math.Floor(min(to+onOutline, float64(n-1))))
}

// span returns where a row of the photo enters and leaves the stem's rectangle, false when it misses it.
func (l *Line) span(y float64) (from, to float64, ok bool) {
	corners := l.corners()
	from, to = math.Inf(1), math.Inf(-1)
	for i, p := range corners {
		q := corners[(i+1)%len(corners)]
		if p.Y == q.Y || y < min(p.Y, q.Y) || y > max(p.Y, q.Y) {
			continue // a level side ends where the other sides begin
		}
		x := p.X + (q.X-p.X)*(y-p.Y)/(q.Y-p.Y)
		from, to = min(from, x), max(to, x)
	}
	return from, to, from <= to
}

// corners returns the corners of the stem in order.
func (l *Line) corners() [4]Point {
	far, near := Point{l.X1, l.Y1}, Point{l.X2, l.Y2}
	along := near.minus(far)
	half := Point{-along.Y, along.X}.times(l.Width / 2 / along.length())
	return [4]Point{far.plus(half), near.plus(half), near.minus(half), far.minus(half)}
}
