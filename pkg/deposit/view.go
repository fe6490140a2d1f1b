package deposit

import (
	"image"

	"valvegrade/pkg/colour"
	"valvegrade/pkg/photo"
	"valvegrade/pkg/texture"
)

// workingSide is the longest side, in pixels, of the photo as colour and texture see it: larger photos are shrunk, so
// that a grain of crust has about the same size in pixels whatever the camera.
const workingSide = 640

// view is the readable valve, cut out of the photo and shrunk by a whole factor, row by row.
type view struct {
	width, height int
	// light is linear light, 0 to 1, by channel; after evenOut it is relative to what metal would show at the same place.
	light [3][]float32
	// luminance is that of light.
	luminance []float32
	// inside marks pixels of which at least half is readable valve; all else is 0.
	inside []bool
	// class is that of the middle of each pixel.
	class []uint8
	// seen is the mean luminance as the camera saw it.
	seen []float32
	// envelope is what evenOut divided by.
	envelope envelope
}

// viewOf cuts the valve out of p.
func viewOf(p *photo.Photo, classes *image.Gray, box image.Rectangle) *view {
	factor := (max(p.Width, p.Height) + workingSide - 1) / workingSide
	v := &view{width: (box.Dx() + factor - 1) / factor, height: (box.Dy() + factor - 1) / factor}
	size := v.width * v.height
	for channel := range v.light {
		v.light[channel] = make([]float32, size)
	}
	v.luminance, v.inside, v.class = make([]float32, size), make([]bool, size), make([]uint8, size)
	for i := range size {
		corner := box.Min.Add(image.Pt(i%v.width*factor, i/v.width*factor))
		v.fill(i, p.Pixels, classes, image.Rectangle{Min: corner, Max: corner.Add(image.Pt(factor, factor))}.Intersect(box))
	}
	v.seen = append([]float32(nil), v.luminance...)
	return v
}

// fill averages the readable pixels of a square of the photo.
func (v *view) fill(i int, m *image.NRGBA, classes *image.Gray, square image.Rectangle) {
	var r, g, b float64
	count := 0
	for y := square.Min.Y; y < square.Max.Y; y++ {
		for x := square.Min.X; x < square.Max.X; x++ {
			if classes.Pix[y*classes.Stride+x] <= Heavy {
				c := m.Pix[y*m.Stride+4*x:][:3]
				r, g, b = r+colour.Linear(c[0]), g+colour.Linear(c[1]), b+colour.Linear(c[2])
				count++
			}
		}
	}
	middle := square.Min.Add(square.Size().Div(2))
	v.class[i] = classes.Pix[middle.Y*classes.Stride+middle.X]
	if 2*count < square.Dx()*square.Dy() {
		return
	}
	n := float64(count)
	v.inside[i] = true
	v.light[0][i], v.light[1][i], v.light[2][i] = float32(r/n), float32(g/n), float32(b/n)
	v.luminance[i] = float32(colour.Luminance(r/n, g/n, b/n))
}

// pixels counts those inside.
func (v *view) pixels() int {
	count := 0
	for _, in := range v.inside {
		if in {
			count++
		}
	}
	return count
}

// picture returns grey values of the view for package texture.
func (v *view) picture(value []float32) texture.Picture {
	return texture.Picture{Width: v.width, Height: v.height, Value: value, Inside: v.inside}
}

// relief is the detail of the evened luminance at two scales.
type relief struct {
	fine, coarse           texture.Detail
	finePlane, coarsePlane texture.Picture
}

// coarser is the factor between the two scales, and the side of the blocks of the formula.
const coarser = 4

func (v *view) relief() relief {
	fine := v.picture(v.luminance)
	coarse := fine.Reduce(coarser)
	return relief{texture.DetailOf(fine), texture.DetailOf(coarse), fine, coarse}
}
