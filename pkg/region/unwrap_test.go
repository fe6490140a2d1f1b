package region

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestUnwrapLandmarks(t *testing.T) {
	rim := Ellipse{100, 80, 50, 30, 0}
	stem := &Line{100, 0, 100, 70, 12} // leans straight up and stands 10 px above the centre
	u := NewUnwrap(rim, stem)
	for name, c := range map[string]struct {
		angle, radius float64
		want          Point
	}{
		"foot":                {0, 0, Point{100, 70}},
		"rim under the stem":  {0, 1, Point{100, 50}},
		"a quarter clockwise": {90, 1, Point{150, 80}},
		"opposite":            {180, 1, Point{100, 110}},
		"half way down":       {180, 0.5, Point{100, 90}},
	} {
		got := u.Photo(c.angle, c.radius)
		assert.InDelta(t, 0, got.minus(c.want).length(), 1e-9, "%s is at %v; float64 rounding", name, got)
	}
}

func TestUnwrapThereAndBack(t *testing.T) {
	rims := []Ellipse{{100, 80, 50, 30, 0}, {320.5, 240.25, 180, 90, 137}, {10, 10, 40, 40, 60}}
	for _, rim := range rims {
		stems := []*Line{
			nil,
			{rim.X + 30, rim.Y - 200, rim.X + 5, rim.Y - 8, 20},
			{rim.X - 300, rim.Y, rim.X - 100, rim.Y, 9},
		}
		for _, stem := range stems {
			u := NewUnwrap(rim, stem)
			for angle := 0.0; angle < 360; angle += 22.5 {
				for _, radius := range []float64{0.05, 0.5, 1, 1.2} {
					gotAngle, gotRadius := u.Head(u.Photo(angle, radius))
					turn := gotAngle - angle
					assert.InDelta(
						t,
						0,
						min(turn*turn, (turn-360)*(turn-360)),
						1e-12,
						"angle %v; float64 rounding",
						angle,
					)
					assert.InDelta(t, radius, gotRadius, 1e-9, "radius at %v; float64 rounding", angle)
					sin, cos := math.Sincos(angle * math.Pi / 180)
					off := u.HeadOn(radius*sin, -radius*cos).minus(u.Photo(angle, radius))
					assert.InDelta(t, 0, off.length(), 1e-9, "head-on, 12 at the top; float64 rounding")
				}
			}
		}
	}
}

func TestUnwrapWithoutStemStartsUp(t *testing.T) {
	for _, angle := range []float64{0, 10, 170, 179} {
		u := NewUnwrap(Ellipse{50, 50, 40, 20, angle}, nil)
		assert.Less(t, u.Photo(0, 1).Y, 50.0, "major axis at %v degrees", angle)
	}
}

func TestUnwrapOfTheStem(t *testing.T) {
	rim := Ellipse{100, 80, 50, 30, 0} // tilted by acos(30/50): lengths along the stem show at 0.8
	stem := &Line{100, 0, 100, 70, 10} // leans straight up
	u := NewUnwrap(rim, stem)
	for name, c := range map[string]struct {
		angle, height float64
		want          Point
	}{
		"foot, facing the lens": {180, 0, Point{100, 70}},
		"one diameter up":       {180, 1, Point{100, 62}},
		"an eighth clockwise":   {135, 0, Point{100 + 5*0.7071067811865476, 70}},
		"an eighth against it":  {225, 2, Point{100 - 5*0.7071067811865476, 54}},
	} {
		got, seen := u.OnStem(c.angle, c.height)
		assert.True(t, seen, name)
		assert.InDelta(t, 0, got.minus(c.want).length(), 1e-9, "%s is at %v; float64 rounding", name, got)
	}
	for _, angle := range []float64{0, 45, 90, 270, 300} {
		_, seen := u.OnStem(angle, 1)
		assert.False(t, seen, "%v degrees is on the far side", angle)
	}
	_, seen := NewUnwrap(rim, nil).OnStem(180, 1)
	assert.False(t, seen, "no stem")
}
