package region

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestHull(t *testing.T) {
	square := []Point{{0, 0}, {4, 0}, {4, 4}, {0, 4}}
	inside := []Point{{1, 1}, {2, 0}, {0, 0}, {3, 3}, {4, 2}}
	assert.Equal(t, square, hull(append(inside, square...)), "neither inner points nor points on a side are corners")
	assert.Equal(t, []Point{{1, 1}}, hull([]Point{{1, 1}, {1, 1}}))
	assert.Empty(t, hull(nil))
}

func TestWithin(t *testing.T) {
	square := hull([]Point{{0, 0}, {4, 0}, {4, 4}, {0, 4}})
	assert.True(t, within(Point{1, 3}, square))
	assert.True(t, within(Point{4, 2}, square), "on a side")
	assert.False(t, within(Point{4.01, 2}, square))
	assert.False(t, within(Point{2, -0.01}, square))
}

func TestToSegment(t *testing.T) {
	a, b := Point{0, 0}, Point{10, 0}
	assert.InDelta(t, 3, toSegment(Point{5, 3}, a, b), 1e-12, "beside; float64 rounding")
	assert.InDelta(t, 5, toSegment(Point{13, 4}, a, b), 1e-12, "beyond the end; float64 rounding")
	assert.InDelta(t, 5, toSegment(Point{3, 4}, a, a), 1e-12, "a point; float64 rounding")
}

func TestPartsAreInOrderOfSize(t *testing.T) {
	p := &proposal{
		Evidence: &Evidence{Cols: 4, Rows: 4},
		label:    []uint8{1, 1, 0, 2, 0, 0, 0, 2, 1, 0, 0, 2, 0, 1, 0, 0},
	}
	belongs := func(label uint8) bool { return label != Background }
	assert.Equal(t, [][]int{{3, 7, 11}, {0, 1}, {8, 13}}, p.parts(belongs, true), "of equals the first first")
	assert.Len(t, p.parts(belongs, false), 4)
}

func TestFitHead(t *testing.T) {
	want := Ellipse{80, 60, 45, 30, 25}
	asCells := func(e *Ellipse) Ellipse {
		require.NotNil(t, e)
		return Ellipse{(e.X - 1.5) / 4, (e.Y - 1.5) / 4, e.A / 4, e.B / 4, e.Angle} // cells of 4 pixels
	}
	whole := (&Marks{Head: want}).draw(160, 120)
	assertEllipse(t, want, asCells(proposalOf(whole).fitHead()), 0.5, "cells, from a mask of whole cells")

	bitten := (&Marks{Head: want, Stem: &Line{60, 20, 78, 55, 30}}).draw(160, 120)
	for i, label := range bitten.Pix {
		if label == Stem {
			bitten.Pix[i] = Background // a guide boss reaches into the head
		}
	}
	assertEllipse(t, want, asCells(proposalOf(bitten).fitHead()), 1, "a cell, with a fifth of the rim hidden")

	sliver := (&Marks{Head: Ellipse{80, -100, 130, 115, 0}}).draw(160, 120)
	assert.Nil(t, proposalOf(sliver).fitHead(), "a short arc says little")
	assert.Nil(t, proposalOf((&Marks{Head: Ellipse{-90, -90, 3, 3, 0}}).draw(160, 120)).fitHead(), "no head")
}
