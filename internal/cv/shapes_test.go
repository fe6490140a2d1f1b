package cv_test

import (
	"image"
	"image/color"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"valvegrade/internal/cv"
)

// drawing turns rows of text into a mask: '#' is inside.
func drawing(rows ...string) *image.Gray {
	m := image.NewGray(image.Rect(0, 0, len(rows[0]), len(rows)))
	for y, row := range rows {
		for x, c := range row {
			if c == '#' {
				m.SetGray(x, y, color.Gray{Y: 255})
			}
		}
	}
	return m
}

// text is the inverse of drawing, so that a failing test shows the picture.
func text(t testing.TB, m *image.Gray, err error) string {
	require.NoError(t, err)
	var b strings.Builder
	for y := m.Rect.Min.Y; y < m.Rect.Max.Y; y++ {
		b.WriteByte('\n')
		for x := m.Rect.Min.X; x < m.Rect.Max.X; x++ {
			b.WriteByte(".#"[m.GrayAt(x, y).Y/255])
		}
	}
	return b.String()
}

func drawn(rows ...string) string { return "\n" + strings.Join(rows, "\n") }

// plane fills a picture from a formula of the pixel's place.
func plane(width, height int, value func(x, y float64) float64) cv.Plane {
	p := cv.Plane{Width: width, Height: height, Pix: make([]float32, width*height)}
	for i := range p.Pix {
		p.Pix[i] = float32(value(float64(i%width), float64(i/width)))
	}
	return p
}

// bumps is a smooth picture with structure in every direction and no symmetry.
func bumps(x, y float64) float64 {
	return math.Sin(x/7)*math.Cos(y/5) + math.Exp(-((x-40)*(x-40)+(y-25)*(y-25))/200) + 0.3*math.Sin((x+2*y)/11)
}
