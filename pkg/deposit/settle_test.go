package deposit

import (
	"bytes"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"valvegrade/pkg/colour"
	"valvegrade/pkg/measure"
)

// What is counted once for all draws must count the same in each.
func TestSettledCellsCountAsBefore(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	around := func(width float64) float32 { return float32(width * random.NormFloat64()) }
	blocks := make([]cellBlock, 20)
	for i := range blocks {
		for range random.IntN(60) {
			c := cell{
				steps:  [3]float32{around(4), around(4), around(4)},
				edge:   around(5),
				weight: random.IntN(wholeCell + 1),
			}
			part := []*cells{&blocks[i].head, &blocks[i].stem}[random.IntN(2)]
			part.open = append(part.open, c)
		}
	}
	draws := drawAll(DefaultCalibration(), len(blocks), diceOf(DefaultCalibration(), tally{}, tally{}))
	var before [][3]measure.Shares
	for _, d := range draws {
		before = append(before, measureCells(blocks, d.times, d.shift))
	}
	open := openCells(blocks)
	settle(blocks, draws)
	assert.Less(t, openCells(blocks), open*3/4, "many are settled")
	for i, d := range draws {
		require.Equal(t, before[i], measureCells(blocks, d.times, d.shift), "draw %d", i)
	}
}

func openCells(blocks []cellBlock) (open int) {
	for _, b := range blocks {
		open += len(b.head.open) + len(b.stem.open)
	}
	return open
}

func TestSureLevelsAreThoseOfTheLightness(t *testing.T) {
	sure := sureLevels()
	assert.Less(t, bytes.Count(sure[:], []byte{notSure}), len(sure)/50, "next to nothing is left to compute")
	for i := range 1_000_000 {
		luminance := float64(i) / 1_000_000
		if level := sure[int(luminance*float64(len(sure)))]; level != notSure {
			require.Equal(t, greyLevel(colour.Lightness(luminance)), level, "luminance %g", luminance)
		}
	}
}

func TestAViewKeepsNothingOfTheOneBefore(t *testing.T) {
	small := halves(2)
	small.width, small.height = 320, 240
	first, err := Measure(twoFaced().photo(), twoFaced().region(), Options{})
	require.NoError(t, err)
	for range 3 { // whoever lends the memory, it was used for a photo of another size
		_, err := Measure(small.photo(), small.region(), Options{})
		require.NoError(t, err)
		again, err := Measure(twoFaced().photo(), twoFaced().region(), Options{})
		require.NoError(t, err)
		require.Equal(t, first, again)
	}
}
