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
	// light is linear light by channel, seen its luminance, 0 to 1, both as the camera saw them.
	light [3][]float32
	seen  []float32
	// luminance is seen relative to what metal would show at the same place: the work of evenOut.
	luminance []float32
	// inside marks pixels of which at least half is readable valve, pixels counts them; all else is 0.
	inside []bool
	pixels int
	// class is that of the middle of each pixel.
	class []uint8
	// envelope is what evenOut divided by, balance the gains by channel that take out the cast of the light.
	envelope envelope
	balance  [3]float64
}

// viewOf cuts the valve out of p.
func viewOf(p *photo.Photo, classes *image.Gray, box image.Rectangle) *view {
	factor := (max(p.Width, p.Height) + workingSide - 1) / workingSide
	v := &view{width: (box.Dx() + factor - 1) / factor, height: (box.Dy() + factor - 1) / factor}
	size := v.width * v.height
	for channel := range v.light {
		v.light[channel] = make([]float32, size)
	}
	v.seen, v.luminance = make([]float32, size), make([]float32, size)
	v.inside, v.class = make([]bool, size), make([]uint8, size)
	for y := range v.height {
		for x := range v.width {
			corner := box.Min.Add(image.Pt(x*factor, y*factor))
			end := image.Pt(min(corner.X+factor, box.Max.X), min(corner.Y+factor, box.Max.Y))
			v.fill(y*v.width+x, p.Pixels, classes, image.Rectangle{Min: corner, Max: end})
		}
	}
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
	v.pixels++
	v.light[0][i], v.light[1][i], v.light[2][i] = float32(r/n), float32(g/n), float32(b/n)
	v.seen[i] = float32(colour.Luminance(r/n, g/n, b/n))
}

// sample returns every n-th pixel inside, about so many in all, row by row.
func (v *view) sample(about int) []int {
	step, next := max(1, v.pixels/about), 0
	var sampled []int
	for i, in := range v.inside {
		if in {
			if next%step == 0 {
				sampled = append(sampled, i)
			}
			next++
		}
	}
	return sampled
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
