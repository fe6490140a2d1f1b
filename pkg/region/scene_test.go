package region

import (
	"image"
	"image/color"
	"image/draw"
	"os"
	"testing"

	"github.com/stretchr/testify/require"

	"valvegrade/pkg/photo"
)

// A photo painted in these colours is read by the test net as told in internal/net/testdata/painted.py.
var (
	blue  = color.NRGBA{B: 255, A: 255} // background
	red   = color.NRGBA{R: 255, A: 255} // head
	green = color.NRGBA{G: 255, A: 255} // stem
)

// paintMask paints a photo from a mask of labels.
func paintMask(mask *image.Gray) *photo.Photo {
	img := image.NewNRGBA(mask.Rect)
	colours := [3]color.NRGBA{blue, red, green}
	for y := range mask.Rect.Dy() {
		for x := range mask.Rect.Dx() {
			img.SetNRGBA(x, y, colours[mask.GrayAt(x, y).Y])
		}
	}
	return photoOf(img)
}

func photoOf(img *image.NRGBA) *photo.Photo {
	return &photo.Photo{Name: "painted.png", Pixels: img, Width: img.Rect.Dx(), Height: img.Rect.Dy()}
}

func plain(width, height int, c color.Color) *photo.Photo {
	img := image.NewNRGBA(image.Rect(0, 0, width, height))
	draw.Draw(img, img.Rect, image.NewUniform(c), image.Point{}, draw.Src)
	return photoOf(img)
}

// paintedFinder finds in painted photos, whatever nets the program carries: one valve, through a window as large as the
// photo.
func paintedFinder(t testing.TB) *Finder { return finderWith(t, "one.onnx") }

// finderWith takes a first look of internal/net/testdata/painted.py.
func finderWith(t testing.TB, first string) *Finder {
	t.Helper()
	var nets [][]byte
	for _, name := range []string{first, "painted.onnx"} {
		onnx, err := os.ReadFile("../../internal/net/testdata/" + name)
		require.NoError(t, err)
		nets = append(nets, onnx)
	}
	f, err := NewFinder(FinderOptions{Nets: nets})
	require.NoError(t, err)
	t.Cleanup(f.Close)
	return f
}

// only finds the one valve of a photo.
func only(t testing.TB, f *Finder, p *photo.Photo, marks *Marks) *Region {
	t.Helper()
	found, err := f.Find(p, marks)
	require.NoError(t, err)
	require.Len(t, found, 1)
	return found[0]
}

// valve is a whole valve in the middle of a 640x480 photo, and its like in other sizes.
func valve(width, height int) *Marks {
	f := float64(min(width, height)) / 480
	x, y := float64(width)/2, float64(height)/2
	return &Marks{
		Head: Ellipse{x, y + 30*f, 170 * f, 120 * f, 15},
		Stem: &Line{x + 20*f, y - 190*f, x + 5*f, y + 10*f, 44 * f},
	}
}

// draw renders the first outline.
func (m *Marks) draw(width, height int) *image.Gray {
	return Outline{m.Head, m.Stem}.draw(width, height)
}

// grid makes evidence from rows of text: '.' background, 'h' head, 's' stem; each logit is sure for its cell. A cell is
// 10x10 photo pixels.
func grid(rows ...string) *Evidence {
	e := &Evidence{Cols: len(rows[0]), Rows: len(rows), CellWidth: 10, CellHeight: 10}
	for k := range e.Region {
		e.Region[k] = make([]float32, e.Cols*e.Rows)
	}
	label := map[byte]int{'.': 0, 'h': 1, 's': 2}
	for r, row := range rows {
		for c := range row {
			for k := range e.Region {
				e.Region[k][r*e.Cols+c] = -6
			}
			e.Region[label[row[c]]][r*e.Cols+c] = 6
		}
	}
	return e
}

// text is the inverse of grid for a proposal.
func (p *proposal) text() []string {
	rows := make([]string, p.Rows)
	for r := range rows {
		for _, label := range p.label[r*p.Cols : (r+1)*p.Cols] {
			rows[r] += string(".hs"[label])
		}
	}
	return rows
}
