package deposit

import (
	"image"
	"testing"

	"github.com/stretchr/testify/assert"

	"valvegrade/pkg/region"
)

// strip is a mask of one row, all head, over evidence of the given logits per step, cells of 4 pixels.
func strip(steps ...[]float32) *image.Gray {
	e := &region.Evidence{Cols: len(steps[0]), Rows: 1, CellWidth: 4, CellHeight: 1}
	mask := image.NewGray(image.Rect(0, 0, 4*e.Cols, 1))
	for i := range mask.Pix {
		mask.Pix[i] = region.Head
	}
	copy(e.Deposit[:], steps)
	return classify(mask, mask.Rect, e)
}

func TestStepsFallBetweenCellCentres(t *testing.T) {
	// Cells are centred at pixels 1.5 and 5.5; halfway between logits -1 and 1 lies 3.5.
	no := []float32{-9, -9}
	assert.Equal(t, []uint8{0, 0, 0, 0, 1, 1, 1, 1}, strip([]float32{-1, 1}, no, no).Pix)
	// At logits -3 and 1 the crossing moves to 4.5.
	assert.Equal(t, []uint8{0, 0, 0, 0, 0, 1, 1, 1}, strip([]float32{-3, 1}, no, no).Pix)
}

func TestAStepIsNeverSkipped(t *testing.T) {
	assert.Equal(
		t,
		[]uint8{0, 0, 0, 0},
		strip([]float32{-1}, []float32{5}, []float32{5}).Pix,
		"heavy but not even film is bare",
	)
	assert.Equal(t, []uint8{1, 1, 1, 1}, strip([]float32{1}, []float32{-1}, []float32{5}).Pix)
	assert.Equal(t, []uint8{3, 3, 3, 3}, strip([]float32{1}, []float32{1}, []float32{1}).Pix)
	assert.Equal(t, []uint8{0, 0, 0, 0}, strip([]float32{0}, []float32{1}, []float32{1}).Pix, "0 is not above 0")
}

func TestOnlyTheMaskIsClassed(t *testing.T) {
	s := plain()
	s.class = func(x, y int) uint8 { return Medium }
	r := s.region()
	classes := classify(r.Mask, r.Bounds(), r.Evidence)
	assert.Equal(t, r.Mask.Rect, classes.Rect)
	for i, label := range r.Mask.Pix {
		want := NotValve
		if label != region.Background {
			want = Medium
		}
		if classes.Pix[i] != want {
			assert.Equal(t, want, classes.Pix[i], "pixel %d", i)
			return
		}
	}
}

func TestRowsAreInterpolatedLikeColumns(t *testing.T) {
	e := &region.Evidence{Cols: 1, Rows: 2, CellWidth: 1, CellHeight: 4}
	e.Deposit = [3][]float32{{-1, 1}, {-9, -9}, {-9, -9}}
	mask := image.NewGray(image.Rect(0, 0, 1, 8))
	for i := range mask.Pix {
		mask.Pix[i] = region.Stem
	}
	assert.Equal(t, []uint8{0, 0, 0, 0, 1, 1, 1, 1}, classify(mask, mask.Rect, e).Pix)
}
