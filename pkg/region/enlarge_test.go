package region

import (
	"image"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"

	"valvegrade/internal/raster"
)

// slowly is enlarge without its shortcut: every pixel interpolated.
func slowly(p *proposal, width, height int) []uint8 {
	columns := raster.Places(0, width, float64(width)/float64(p.Cols), p.Cols)
	lines := raster.Places(0, height, float64(height)/float64(p.Rows), p.Rows)
	pixels := make([]uint8, width*height)
	for y := range height {
		upper, lower := lines[y].First*p.Cols, lines[y].Second*p.Cols
		for x := range width {
			left, right := columns[x].First, columns[x].Second
			corners := [4]int{upper + left, upper + right, lower + left, lower + right}
			p.interpolate(pixels[y*width+x:][:1], columns[x:x+1], lines[y].Share, corners)
		}
	}
	return pixels
}

func TestEnlargeShortcutIsExact(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 4))
	for _, size := range [][2]int{{64, 48}, {77, 31}, {16, 12}, {9, 7}} {
		e := &Evidence{Cols: 16, Rows: 12, CellWidth: float64(size[0]) / 16, CellHeight: float64(size[1]) / 12}
		for k := range e.Region {
			e.Region[k] = make([]float32, 16*12)
			for i := range e.Region[k] {
				e.Region[k][i] = float32(random.NormFloat64())
			}
		}
		p := propose(e)
		assert.Equal(t, slowly(p, size[0], size[1]), p.enlarge(image.Rect(0, 0, size[0], size[1])).Pix, "%v", size)
	}
}

func TestEnlargeFollowsSubCellEdges(t *testing.T) {
	// Two cells of 10 pixels; the difference of the logits crosses zero at 3/4 of the way from centre to centre, that
	// is at pixel coordinate 4.5 + 7.5 = 12.
	e := grid("h.")
	e.Region[Head][0], e.Region[Background][0] = 3, 0
	e.Region[Head][1], e.Region[Background][1] = 0, 1
	p := propose(e)
	e.CellHeight = 1
	row := p.enlarge(image.Rect(0, 0, 20, 1)).Pix
	assert.Equal(t, Head, row[11])
	assert.Equal(t, Background, row[12], "equal logits are background")
	assert.Equal(t, Background, row[13])
}

func TestEnlargeFillsTheWindowAlone(t *testing.T) {
	e := grid("hh", "hh")
	e.Left, e.Top = 30, 40
	mask := propose(e).enlarge(image.Rect(0, 0, 100, 80))
	c := takeCensus(mask)
	assert.Equal(t, image.Rect(30, 40, 50, 60), c[Head].box)
	assert.Equal(t, 400, c[Head].pixels)
}
