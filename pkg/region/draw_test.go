package region

import (
	"image"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

func count(m *image.Gray, label uint8) int { return takeCensus(m)[label].pixels }

func TestEllipseAreaAtAnyAngleAndShift(t *testing.T) {
	for angle := 0.0; angle < 180; angle += 7.5 {
		for _, shift := range []Point{{0, 0}, {0.5, 0.5}, {0.25, 0.75}, {0.1, 0.9}} {
			for _, axes := range [][2]float64{{40, 25}, {90, 60}, {60, 59}} {
				e := Ellipse{150 + shift.X, 150 + shift.Y, axes[0], axes[1], angle}
				drawn := (&Marks{Head: e}).draw(300, 300)
				assert.InEpsilon(t, e.Area(), count(drawn, Head), 0.005, "pixels are counted whole: %+v", e)
			}
		}
	}
}

func TestStemAreaAtAnyAngle(t *testing.T) {
	head := Ellipse{-100, -100, 2, 2, 0} // out of the way
	for angle := 0.0; angle < 360; angle += 7.5 {
		along := direction(angle)
		l := &Line{150.3, 149.8, 150.3 + 100*along.X, 149.8 + 100*along.Y, 21.7}
		drawn := (&Marks{Head: head, Stem: l}).draw(300, 300)
		// A level or diagonal side may pass just beside a whole row of pixel centres: half a row at each side, 50 of
		// 2170.
		assert.InDelta(t, 2170, count(drawn, Stem), 2*50, "angle %v", angle)
	}
}

func TestEllipseIsClippedAtTheEdge(t *testing.T) {
	half := (&Marks{Head: Ellipse{-0.5, 100, 60, 40, 0}}).draw(200, 200)
	assert.InEpsilon(
		t,
		math.Pi*60*40/2,
		count(half, Head),
		0.005,
		"the centre is on the left edge; pixels are counted whole",
	)
	all := (&Marks{Head: Ellipse{50, 50, 500, 400, 30}}).draw(100, 100)
	assert.Equal(t, 100*100, count(all, Head))
}

func TestStemStandsBeforeHead(t *testing.T) {
	m := &Marks{Head: Ellipse{50, 50, 30, 30, 0}, Stem: &Line{50, 0, 50, 50, 10}}
	drawn := m.draw(100, 100)
	assert.Equal(t, Stem, drawn.GrayAt(50, 40).Y)
	assert.Equal(t, Head, drawn.GrayAt(30, 40).Y)
	assert.Equal(t, Background, drawn.GrayAt(30, 5).Y)
}
