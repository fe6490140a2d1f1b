package region

import (
	"image"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

func block(box image.Rectangle, size int, label uint8) *image.Gray {
	m := image.NewGray(image.Rect(0, 0, size, size))
	for y := box.Min.Y; y < box.Max.Y; y++ {
		for x := box.Min.X; x < box.Max.X; x++ {
			m.Pix[y*m.Stride+x] = label
		}
	}
	return m
}

func disc(x, y, radius float64, size int) *image.Gray {
	m := &Marks{Head: Ellipse{x, y, radius, radius, 0}}
	return m.draw(size, size)
}

func TestOverlapOfReferenceMasks(t *testing.T) {
	// By definition: a square of 36 cells and itself moved share 30 of 42 and 25 of 47; figures to six digits.
	a := block(image.Rect(2, 2, 8, 8), 10, Head)
	down := block(image.Rect(2, 3, 8, 9), 10, Head)
	both := block(image.Rect(3, 3, 9, 9), 10, Head)
	assert.InDelta(t, 0.714286, IoU(a, down, Head), 5e-7, "half a unit of the last printed digit")
	assert.InDelta(t, 0.531915, IoU(a, both, Head), 5e-7, "half a unit of the last printed digit")
}

func TestOverlapOfReferenceDiscs(t *testing.T) {
	// A disc against itself moved by 5 pixels, counted on pixels with NumPy; two true circles overlap by 0.880344 and
	// 0.938308.
	assert.InDelta(
		t,
		0.880844,
		IoU(disc(60, 60, 50, 130), disc(65, 60, 50, 130), Head),
		5e-7,
		"half a unit of the last printed digit",
	)
	assert.InDelta(
		t,
		0.938483,
		IoU(disc(110, 110, 100, 230), disc(115, 110, 100, 230), Head),
		5e-7,
		"half a unit of the last printed digit",
	)
}

func TestOverlapOfEmptyMasks(t *testing.T) {
	a, none := block(image.Rect(2, 2, 8, 8), 10, Head), block(image.Rectangle{}, 10, Head)
	assert.Zero(t, IoU(a, none, Head))
	assert.True(t, math.IsNaN(IoU(none, none, Head)), "nothing to compare")
}

func TestOverlapByLabel(t *testing.T) {
	a, b := block(image.Rect(2, 2, 8, 8), 10, Head), block(image.Rect(2, 2, 8, 8), 10, Stem)
	assert.Zero(t, IoU(a, b, Head))
	assert.InDelta(t, 1, IoU(a, b, Head, Stem), 0, "as valve they are the same")
}
