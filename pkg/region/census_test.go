package region

import (
	"image"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestCensus(t *testing.T) {
	m := block(image.Rect(2, 1, 5, 4), 8, Head)
	m.Pix[1*m.Stride+3] = Stem
	c := takeCensus(m)
	assert.Equal(t, 8, c[Head].pixels)
	assert.Equal(t, image.Rect(2, 1, 5, 4), c[Head].box)
	assert.Zero(t, c[Head].edge)
	assert.Equal(t, tally{1, 3, 1, image.Rect(3, 1, 4, 2), 0}, c[Stem])
	assert.Equal(t, Point{3, 17.0 / 8}, c[Head].centroid(), "nine pixels around (3,2) less the one at (3,1)")
}

func TestCensusCountsTheEdgeOnce(t *testing.T) {
	for name, c := range map[string]struct {
		box  image.Rectangle
		want int
	}{
		"all of it": {image.Rect(0, 0, 5, 5), 16}, "left upper corner": {image.Rect(0, 0, 2, 2), 3},
		"right side": {image.Rect(3, 1, 5, 4), 3}, "inside": {image.Rect(1, 1, 4, 4), 0}, "none": {image.Rectangle{}, 0},
	} {
		assert.Equal(t, c.want, takeCensus(block(c.box, 5, Head))[Head].edge, name)
	}
}

func TestShareBeyondTheEdge(t *testing.T) {
	assert.Zero(t, takeCensus((&Marks{Head: Ellipse{200, 200, 100, 100, 0}}).draw(400, 400))[Head].beyond())
	for _, depth := range []float64{5, 10, 20} {
		c := takeCensus((&Marks{Head: Ellipse{200, 99.5 - depth, 100, 100, 0}}).draw(400, 400))
		// The segment that a chord at this distance from the centre cuts off a circle.
		half := math.Acos((100 - depth) / 100)
		want := (half - math.Sin(half)*math.Cos(half)) / math.Pi
		assert.InDelta(
			t,
			want,
			c[Head].beyond(),
			0.15*want+0.002,
			"the disc is that of the visible area, so it is a little small",
		)
	}
}
