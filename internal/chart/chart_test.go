package chart_test

import (
	"bytes"
	"fmt"
	"image/png"
	"testing"

	"github.com/stretchr/testify/assert"
	"gonum.org/v1/plot/plotter"

	"valvegrade/internal/chart"
)

func TestTicksAreRound(t *testing.T) {
	ticks := chart.Ticks{Label: func(v float64) string { return fmt.Sprintf("%g", v) }}
	for _, row := range []struct {
		min, max float64
		want     string
	}{
		{0, 100, "0 20 40 60 80 100 "}, {-7.5, 13, "-6 -4 -2 0 2 4 6 8 10 12 "}, {15000, 75000, "20000 30000 40000 50000 60000 70000 "},
	} {
		var got string
		for _, tick := range ticks.Ticks(row.min, row.max) {
			got += tick.Label + " "
		}
		assert.Equal(t, row.want, got)
	}
}

func TestSameChartGivesSameBytes(t *testing.T) {
	for _, format := range []string{"svg", "png"} {
		var pictures [2]bytes.Buffer
		for i := range pictures {
			c := chart.New("title", "x", "y")
			chart.Line(c, plotter.XY{}, plotter.XY{X: 1, Y: 1}, chart.Stroke(chart.Ink, 1))
			assert.NoError(t, chart.Write(&pictures[i], c, 200, 100, format))
		}
		assert.Equal(t, pictures[0].Bytes(), pictures[1].Bytes(), format)
	}
	assert.ErrorIs(t, chart.Write(&bytes.Buffer{}, chart.New("", "", ""), 200, 100, "gif"), chart.ErrFormat)
}

// A chart carries the mark, and every decoder reads the picture all the same; what another program wrote does not.
func TestChartsAreToldFromPhotos(t *testing.T) {
	var drawn, again bytes.Buffer
	c := chart.New("title", "x", "y")
	assert.NoError(t, chart.Write(&drawn, c, 200, 100, "png"))
	assert.True(t, chart.IsMarked(bytes.NewReader(drawn.Bytes())))
	picture, err := png.Decode(bytes.NewReader(drawn.Bytes()))
	assert.NoError(t, err)
	assert.NoError(t, png.Encode(&again, picture))
	for name, other := range map[string][]byte{
		"saved again": again.Bytes(), "short": drawn.Bytes()[:40], "empty": nil, "spoilt": append([]byte("GIF"), drawn.Bytes()[3:]...),
	} {
		assert.False(t, chart.IsMarked(bytes.NewReader(other)), name)
	}
}
