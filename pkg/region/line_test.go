package region

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestFitLine(t *testing.T) {
	for name, c := range map[string]struct {
		points         []Point
		through, along Point
	}{
		"two points":   {[]Point{{0, 0}, {3, 4}}, Point{1.5, 2}, Point{0.6, 0.8}},
		"vertical":     {[]Point{{2, 9}, {2, 1}, {2, 5}}, Point{2, 5}, Point{0, 1}},
		"level":        {[]Point{{9, 3}, {1, 3}}, Point{5, 3}, Point{1, 0}},
		"other sense":  {[]Point{{3, -4}, {0, 0}}, Point{1.5, -2}, Point{0.6, -0.8}},
		"off the line": {[]Point{{0, 1}, {0, -1}, {10, 1}, {10, -1}}, Point{5, 0}, Point{1, 0}},
	} {
		through, along, err := FitLine(c.points)
		require.NoError(t, err, name)
		assert.InDelta(t, 0, through.minus(c.through).length(), 1e-12, "%s; float64 rounding", name)
		assert.InDelta(t, 0, along.minus(c.along).length(), 1e-12, "%s; float64 rounding", name)
	}
}

func TestFitLineIsClosest(t *testing.T) {
	// The defining property: no other line through the mean is closer.
	points := []Point{
		{0, 5.9},
		{0.9, 5.4},
		{1.8, 4.4},
		{2.6, 4.6},
		{3.3, 3.5},
		{4.4, 3.7},
		{5.2, 2.8},
		{6.1, 2.8},
		{6.5, 2.4},
		{7.4, 1.5},
	}
	through, along, err := FitLine(points)
	require.NoError(t, err)
	squares := func(along Point) float64 {
		sum := 0.0
		for _, p := range points {
			off := along.cross(p.minus(through))
			sum += off * off
		}
		return sum
	}
	for _, degrees := range []float64{0.01, 1, 45, 90} {
		turn := direction(degrees)
		turned := Point{along.X*turn.X - along.Y*turn.Y, along.X*turn.Y + along.Y*turn.X}
		assert.Greater(t, squares(turned), squares(along), "turned by %v degrees", degrees)
		turned = Point{along.X*turn.X + along.Y*turn.Y, along.Y*turn.X - along.X*turn.Y}
		assert.Greater(t, squares(turned), squares(along), "turned back by %v degrees", degrees)
	}
}

func TestFitLineRefuses(t *testing.T) {
	for name, points := range map[string][]Point{
		"none": nil, "one": {{1, 2}}, "in one place": {{1, 2}, {1, 2}},
		"no direction": {{1, 0}, {-1, 0}, {0, 1}, {0, -1}},
	} {
		_, _, err := FitLine(points)
		assert.ErrorIs(t, err, ErrNoFit, name)
	}
}
