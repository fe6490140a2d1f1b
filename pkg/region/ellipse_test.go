package region

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// rimOf returns n points of an ellipse between two eccentric angles in degrees.
func rimOf(e Ellipse, n int, from, to float64) []Point {
	points := make([]Point, n)
	for i := range points {
		points[i] = e.At(from + (to-from)*float64(i)/float64(n))
	}
	return points
}

func assertEllipse(t *testing.T, want, got Ellipse, delta float64, why string) {
	t.Helper()
	assert.InDelta(t, want.X, got.X, delta, "x; %s", why)
	assert.InDelta(t, want.Y, got.Y, delta, "y; %s", why)
	assert.InDelta(t, want.A, got.A, delta, "a; %s", why)
	assert.InDelta(t, want.B, got.B, delta, "b; %s", why)
	turn := math.Abs(math.Mod(want.Angle-got.Angle+270, 180) - 90)
	assert.LessOrEqual(
		t,
		turn*math.Pi/180*(want.A-want.B),
		delta,
		"angle, as the way the end of the long axis moves; %s",
		why,
	)
}

func TestFitEllipseIsExactOnItsOwnPoints(t *testing.T) {
	for _, want := range []Ellipse{
		{320, 240, 180, 120, 0}, {320.25, 239.5, 180, 120, 12}, {0, 0, 5, 4, 89}, {1e4, -2e4, 300, 20, 135}, {3, 4, 1000, 990, 179},
	} {
		got, err := FitEllipse(rimOf(want, 60, 0, 360))
		require.NoError(t, err)
		assertEllipse(t, want, got, 1e-4*want.A, "rounding of sums of fourth powers")
		got, err = FitEllipse(rimOf(want, 60, 20, 200))
		require.NoError(t, err)
		assertEllipse(t, want, got, 1e-3*want.A, "half an arc is worse conditioned")
	}
}

func TestFitEllipseFivePoints(t *testing.T) {
	want := Ellipse{10, 20, 8, 6, 30}
	got, err := FitEllipse(rimOf(want, 5, 0, 360))
	require.NoError(t, err)
	assertEllipse(t, want, got, 1e-4, "five points determine an ellipse; rounding")
}

func TestFitEllipseWithNoise(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	want := Ellipse{320, 240, 150, 100, 40}
	points := rimOf(want, 400, 0, 360)
	for i := range points {
		points[i] = points[i].plus(Point{random.NormFloat64(), random.NormFloat64()})
	}
	got, err := FitEllipse(points)
	require.NoError(t, err)
	assertEllipse(t, want, got, 0.3, "sigma 1 pixel over the root of 400 points is 0.05; six times that")
}

func TestFitEllipseRefuses(t *testing.T) {
	onLine := make([]Point, 20)
	for i := range onLine {
		onLine[i] = Point{float64(i), 2 * float64(i)}
	}
	for name, points := range map[string][]Point{
		"none": nil, "four": onLine[:4], "on a line": onLine, "in one place": make([]Point, 9),
	} {
		_, err := FitEllipse(points)
		assert.ErrorIs(t, err, ErrNoFit, name)
	}
}

func TestLevel(t *testing.T) {
	e := Ellipse{10, 20, 8, 6, 90}
	assert.InDelta(t, 0, e.Level(Point{10, 20}), 1e-12, "float64 rounding")
	assert.InDelta(t, 1, e.Level(Point{10, 28}), 1e-12, "the long axis points down; float64 rounding")
	assert.InDelta(t, 2, e.Level(Point{22, 20}), 1e-12, "twice the short axis; float64 rounding")
	assert.InDelta(t, math.Pi*48, e.Area(), 1e-12, "float64 rounding")
}

func TestDistances(t *testing.T) {
	e := Ellipse{10, 20, 8, 6, 90}
	off := e.distances([]Point{{10, 31}, {10, 26}, {18, 20}, {10, 28}})
	for i, want := range []float64{3, 2, 2, 0} {
		assert.InDelta(t, want, off[i], 1e-12, "point %d; float64 rounding", i)
	}
}

func TestOrdered(t *testing.T) {
	assert.Equal(t, Ellipse{1, 2, 5, 3, 100}, Ellipse{1, 2, 3, 5, 10}.ordered())
	assert.Equal(t, Ellipse{1, 2, 5, 3, 170}, Ellipse{1, 2, 5, 3, -10}.ordered())
	assert.Equal(t, Ellipse{1, 2, 5, 3, 0}, Ellipse{1, 2, 5, 3, 360}.ordered())
}
