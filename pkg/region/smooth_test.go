package region

import (
	"image"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// roundHead is a proposal of a head of radius 52 cells in the middle of 160 x 120, with rectangles of another label
// painted over it.
func roundHead(label uint8, over ...image.Rectangle) *proposal {
	mask := (&Marks{Head: Ellipse{80, 60, 52, 52, 0}}).draw(160, 120)
	for _, r := range over {
		for y := r.Min.Y; y < r.Max.Y; y++ {
			for x := r.Min.X; x < r.Max.X; x++ {
				mask.Pix[y*mask.Stride+x] = label
			}
		}
	}
	return proposalOf(mask)
}

// cell returns the label of a cell by column and row.
func (p *proposal) cell(col, row int) uint8 { return p.label[row*p.Cols+col] }

func TestSmoothingClosesBaysAndCutsSpurs(t *testing.T) {
	bay := roundHead(Background, image.Rect(80, 0, 81, 30)) // one cell wide, into the rim
	require.Equal(t, Background, bay.cell(80, 25))
	bay.tidy()
	assert.Equal(t, Head, bay.cell(80, 25))

	spur := roundHead(Head, image.Rect(80, 0, 81, 12)) // one cell wide, out of the rim
	spur.tidy()
	assert.Equal(t, Background, spur.cell(80, 4))

	loop := roundHead(Head, image.Rect(128, 50, 141, 51), image.Rect(140, 50, 141, 70), image.Rect(128, 69, 141, 70))
	loop.tidy()
	assert.Equal(t, Background, loop.cell(140, 60))
}

func TestSmoothingKeepsWhatIsAsLargeAsAGuide(t *testing.T) {
	guide := roundHead(Background, image.Rect(65, 0, 95, 40))
	guide.tidy()
	assert.Equal(t, Background, guide.cell(80, 36))
	assert.InDelta(
		t,
		countOf(roundHead(Background, image.Rect(65, 0, 95, 40)).label, Head),
		guide.count(Head),
		30,
		"its corners are rounded",
	)
}

func TestSmoothingLeavesTheStemAlone(t *testing.T) {
	stem := image.Rect(78, 0, 81, 60) // three cells wide
	p := roundHead(Stem, stem)
	p.tidy()
	for y := range 6 {
		assert.Equal(t, []uint8{Background, Stem, Stem, Stem, Background}, p.label[y*p.Cols+77:][:5], "row %d", y)
	}
}

func TestUnsureBackgroundInsideTheRimIsHead(t *testing.T) {
	gap := image.Rect(95, 70, 117, 93)
	doubtful := func(margin float32) *proposal {
		p := roundHead(Background, gap)
		for y := gap.Min.Y; y < gap.Max.Y; y++ {
			for x := gap.Min.X; x < gap.Max.X; x++ {
				p.logit[Background][y*p.Cols+x] = margin
			}
		}
		return p
	}
	unsure, sure := doubtful(0.5), doubtful(4)
	rim := unsure.tidy()
	require.NotNil(t, rim)
	assert.Equal(t, Head, unsure.cell(100, 75))
	sure.tidy()
	assert.Equal(t, Background, sure.cell(100, 75), "something stands before the valve")
}
