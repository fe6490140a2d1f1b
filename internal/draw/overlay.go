package draw

import (
	"image"
	"image/draw"

	"github.com/disintegration/imaging"

	"valvegrade/pkg/deposit"
	"valvegrade/pkg/score"
)

// Sizes in pixels: the picture's long side is at most maxSide, which is as much as a screen shows; the canvas is at least
// minWidth wide, which is what the caption needs.
const (
	maxSide  = 1600
	minWidth = 560
)

// Overlay draws the result: the outlines of head and stem, the deposit classes as tints, and below them a caption with grade,
// interval, coverage, reasons and legend. A refused photo shows its picture, if there is one, and what to do about it.
func Overlay(r *score.Result) *image.RGBA {
	picture := Marked(r)
	width := max(picture.Rect.Dx(), minWidth)
	strip := caption(r, width)
	canvas := image.NewRGBA(image.Rect(0, 0, width, picture.Rect.Dy()+strip.Rect.Dy()))
	draw.Draw(canvas, canvas.Rect, image.NewUniform(paper), image.Point{}, draw.Src)
	left := (width - picture.Rect.Dx()) / 2
	draw.Draw(canvas, picture.Rect.Add(image.Pt(left, 0)), picture, image.Point{}, draw.Src)
	draw.Draw(canvas, strip.Rect.Add(image.Pt(0, picture.Rect.Dy())), strip, image.Point{}, draw.Src)
	return canvas
}

// Marked draws the outlines and the deposit classes into the photo of a scored result, without a caption. A refused photo is
// left as it is; a file without a picture gives an empty image.
func Marked(r *score.Result) *image.RGBA {
	picture := base(r)
	if r.Status == score.Scored {
		scene := newScene(r, picture.Rect.Size())
		scene.tint(picture)
		scene.outline(picture)
	}
	return picture
}

// base returns the photo in the overlay's size, or a strip of nothing for a file without a picture.
func base(r *score.Result) *image.RGBA {
	if r.Photo == nil {
		return image.NewRGBA(image.Rectangle{})
	}
	var source image.Image = r.Photo.Pixels
	if max(r.Photo.Width, r.Photo.Height) > maxSide {
		source = imaging.Fit(r.Photo.Pixels, maxSide, maxSide, imaging.Box)
	}
	picture := image.NewRGBA(image.Rectangle{Max: source.Bounds().Size()})
	draw.Draw(picture, picture.Rect, source, source.Bounds().Min, draw.Src)
	return picture
}

// scene is what is drawn into the picture: region labels and deposit classes in the picture's size.
type scene struct {
	width, height int
	labels        []uint8
	classes       []uint8
}

func newScene(r *score.Result, size image.Point) *scene {
	return &scene{
		width: size.X, height: size.Y,
		labels:  sample(r.Region.Mask, size),
		classes: sample(r.Deposit.Map, size),
	}
}

// sample takes the nearest value of the map for every pixel of a picture of the given size.
func sample(m *image.Gray, size image.Point) []uint8 {
	if m.Rect.Size() == size && m.Stride == size.X {
		return m.Pix
	}
	values := make([]uint8, 0, size.X*size.Y)
	for y := range size.Y {
		row := m.Pix[(2*y+1)*m.Rect.Dy()/(2*size.Y)*m.Stride:]
		for x := range size.X {
			values = append(values, row[(2*x+1)*m.Rect.Dx()/(2*size.X)])
		}
	}
	return values
}

// tint lays the deposit classes over the picture; unreadable pixels are hatched.
func (s *scene) tint(picture *image.RGBA) {
	for i, class := range s.classes {
		pixel := picture.Pix[4*i : 4*i+3 : 4*i+3]
		switch {
		case int(class) < len(tints):
			t := tints[class]
			lay(pixel, t.colour.R, t.colour.G, t.colour.B, t.alpha)
		case class == deposit.Unreadable && hatched(i%s.width, i/s.width):
			lay(pixel, paper.R, paper.G, paper.B, 0.7)
		}
	}
}

// hatched reports whether a pixel lies on one of the diagonal lines that mark unreadable areas.
func hatched(x, y int) bool { return (x+y)%6 < 2 }

// lay covers a pixel with a colour of the opacity alpha, 0 to 1.
func lay(pixel []uint8, r, g, b uint8, alpha float64) {
	a := int(alpha*256 + 0.5)
	pixel[0] += uint8((int(r) - int(pixel[0])) * a >> 8)
	pixel[1] += uint8((int(g) - int(pixel[1])) * a >> 8)
	pixel[2] += uint8((int(b) - int(pixel[2])) * a >> 8)
}
