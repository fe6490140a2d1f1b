package draw

import (
	"image"
	"image/color"
	"image/draw"
	"slices"

	"valvegrade/internal/cv"
	"valvegrade/internal/raster"
	"valvegrade/pkg/deposit"
	"valvegrade/pkg/score"
)

// Sizes in pixels: the long side of a photo is at most maxSide, two of which are as much as a screen shows; the canvas
// is at least minWidth wide, which is what the caption needs; between lies between two photos.
const (
	maxSide  = 1200
	minWidth = 560
	between  = 6
)

// Overlay draws the results of a photo's valves, at least one: the photo as it is and beside it the same with the
// outlines of head and stem, the deposit classes as tints and the valves' numbers where there are several; below them a
// caption with grades, intervals, coverage, reasons and legend. A refused photo shows its picture, if there is one, and
// what to do about it.
func Overlay(valves ...*score.Result) *image.RGBA {
	pictures := []*image.RGBA{base(valves[0])}
	marked, brightened := mark(valves)
	if anyScored(valves) {
		pictures = append(pictures, marked)
	}
	size := pictures[0].Rect.Size()
	across := len(pictures)*(size.X+between) - between
	width := max(across, minWidth)
	strip := caption(valves, width, brightened)
	canvas := image.NewRGBA(image.Rect(0, 0, width, size.Y+strip.Rect.Dy()))
	draw.Draw(canvas, canvas.Rect, image.NewUniform(paper), image.Point{}, draw.Src)
	for n, picture := range pictures {
		at := image.Pt((width-across)/2+n*(size.X+between), 0)
		draw.Draw(canvas, picture.Rect.Add(at), picture, image.Point{}, draw.Src)
	}
	draw.Draw(canvas, strip.Rect.Add(image.Pt(0, size.Y)), strip, image.Point{}, draw.Src)
	return canvas
}

func anyScored(valves []*score.Result) bool {
	return slices.ContainsFunc(valves, func(r *score.Result) bool { return r.Status == score.Scored })
}

// Marked draws the outlines and the deposit classes of scored valves into their photo, without a caption, and their
// numbers where there are several; valves in the dark are brightened first. A refused photo is left as it is; a file
// without a picture gives an empty image.
func Marked(valves ...*score.Result) *image.RGBA {
	picture, _ := mark(valves)
	return picture
}

// mark also says whether the valves were brightened.
func mark(valves []*score.Result) (picture *image.RGBA, brightened bool) {
	picture = base(valves[0])
	scene := newScene(valves, picture.Rect.Size())
	if scene == nil {
		return picture, false
	}
	exponent := scene.curve(picture)
	scene.tint(picture, exponent)
	scene.outline(picture)
	if len(valves) > 1 {
		numberValves(picture, valves)
	}
	return picture, exponent < 1
}

// base returns the photo in the overlay's size, or a strip of nothing for a file without a picture.
func base(r *score.Result) *image.RGBA {
	if r.Photo == nil {
		return image.NewRGBA(image.Rectangle{})
	}
	pixels := r.Photo.Pixels
	size := pixels.Rect.Size()
	longest := max(size.X, size.Y)
	if longest <= maxSide {
		own := raster.Opaque(pixels)
		own.Pix = slices.Clone(own.Pix)
		return own
	}
	fitted, err := cv.Shrink(pixels, max(1, size.X*maxSide/longest), max(1, size.Y*maxSide/longest))
	if err != nil {
		panic("draw: " + err.Error()) // without memory; the photo's size is one that was decoded
	}
	return raster.Opaque(fitted)
}

// scene is what is drawn into the picture: region labels (score.RegionMask) and deposit classes in the picture's size.
type scene struct {
	width, height int
	labels        []uint8
	classes       []uint8
}

// newScene returns nil where no valve was scored.
func newScene(valves []*score.Result, size image.Point) *scene {
	labels, classes := score.RegionMask(valves), score.DepositMask(valves)
	if labels == nil {
		return nil
	}
	return &scene{width: size.X, height: size.Y, labels: sample(labels, size), classes: sample(classes, size)}
}

// sample takes the nearest value of the map for every pixel of a picture of the given size.
func sample(m *image.Gray, size image.Point) []uint8 {
	if m.Rect.Size() == size && m.Stride == size.X {
		return m.Pix
	}
	nearest := func(at, size, whole int) int { return (2*at + 1) * whole / (2 * size) }
	columns := make([]int, size.X)
	for x := range columns {
		columns[x] = nearest(x, size.X, m.Rect.Dx())
	}
	values := make([]uint8, size.X*size.Y)
	for y := range size.Y {
		from, to := m.Pix[nearest(y, size.Y, m.Rect.Dy())*m.Stride:], values[y*size.X:][:size.X]
		for x, column := range columns {
			to[x] = from[column]
		}
	}
	return values
}

// tint lays the deposit classes over the valves of the picture, which go through a power curve first; unreadable pixels
// are hatched.
func (s *scene) tint(picture *image.RGBA, exponent float64) {
	var glazes [len(tints)]glaze
	for class, t := range tints {
		glazes[class] = glazeOf(t.colour, t.alpha).after(exponent)
	}
	plain, hatching := glazeOf(paper, 0).after(exponent), glazeOf(paper, 0.7)
	for y := range s.height {
		row, pix := s.classes[y*s.width:][:s.width], picture.Pix[y*picture.Stride:]
		for from := 0; from < len(row); {
			class, to := row[from], raster.RunEnd(row, from)
			switch {
			case int(class) < len(tints):
				for x := from; x < to; x++ {
					glazes[class].lay(pix[4*x:])
				}
			case class == deposit.Unreadable:
				for x := from; x < to; x++ {
					plain.lay(pix[4*x:])
					if hatched(x, y) {
						hatching.lay(pix[4*x:])
					}
				}
			}
			from = to
		}
	}
}

// hatched reports whether a pixel lies on one of the diagonal lines that mark unreadable areas.
func hatched(x, y int) bool { return (x+y)%6 < 2 }

// glaze says what becomes of each code of red, green and blue under a colour.
type glaze [3][256]uint8

// glazeOf is a colour of the opacity alpha, 0 to 1.
func glazeOf(c color.RGBA, alpha float64) (g glaze) {
	a := int(alpha*256 + 0.5)
	for code := range 256 {
		for k, over := range [3]uint8{c.R, c.G, c.B} {
			g[k][code] = uint8(code) + uint8((int(over)-code)*a>>8)
		}
	}
	return g
}

func (g *glaze) lay(pixel []uint8) {
	p := pixel[:3]
	p[0], p[1], p[2] = g[0][p[0]], g[1][p[1]], g[2][p[2]]
}
