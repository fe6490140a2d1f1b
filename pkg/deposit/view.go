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
	// light is linear light, 0 to 1, as the camera saw it.
	light []light
	// luminance is that of light, after evenOut relative to what metal would show at the same place.
	luminance []float32
	// inside marks pixels of which at least half is readable valve, pixels lists them; all else is 0.
	inside []bool
	pixels []int32
	// class is that of the middle of each pixel.
	class []uint8
	// envelope is what evenOut divided by, balance the gains by channel that take out the cast of the light.
	envelope envelope
	balance  [3]float64
}

// light is linear red, green and blue.
type light struct{ r, g, b float32 }

func (l light) luminance() float64 {
	return colour.Luminance(float64(l.r), float64(l.g), float64(l.b))
}

// viewOf cuts the valve out of p.
func viewOf(p *photo.Photo, classes *image.Gray, box image.Rectangle) *view {
	factor := (max(p.Width, p.Height) + workingSide - 1) / workingSide
	v := &view{width: (box.Dx() + factor - 1) / factor, height: (box.Dy() + factor - 1) / factor}
	size := v.width * v.height
	v.light, v.luminance = make([]light, size), make([]float32, size)
	v.inside, v.class = make([]bool, size), make([]uint8, size)
	v.pixels = make([]int32, 0, size)
	squares := make([]square, v.width)
	for y := range v.height {
		clear(squares)
		top, bottom := box.Min.Y+y*factor, min(box.Min.Y+(y+1)*factor, box.Max.Y)
		for row := top; row < bottom; row++ {
			labels := classes.Pix[row*classes.Stride+box.Min.X:][:box.Dx()]
			add(squares, factor, labels, p.Pixels.Pix[row*p.Pixels.Stride+4*box.Min.X:])
		}
		middle := classes.Pix[(top+(bottom-top)/2)*classes.Stride+box.Min.X:][:box.Dx()]
		for x := range squares {
			left, right := x*factor, min((x+1)*factor, box.Dx())
			v.class[y*v.width+x] = middle[left+(right-left)/2]
			if 2*squares[x].count >= (right-left)*(bottom-top) {
				v.fill(y*v.width+x, squares[x])
			}
		}
	}
	return v
}

// square sums the linear light of the readable pixels in a square of the photo.
type square struct {
	r, g, b float64
	count   int
}

// add adds a row of the photo to the squares, each factor pixels wide.
func add(squares []square, factor int, classes, pix []uint8) {
	for x := range squares {
		s := &squares[x]
		from, to := x*factor, min((x+1)*factor, len(classes))
		colours := pix[4*from : 4*to]
		for i, class := range classes[from:to] {
			if class <= Heavy {
				c := colours[4*i:][:3]
				s.r, s.g, s.b = s.r+colour.Linear(c[0]), s.g+colour.Linear(c[1]), s.b+colour.Linear(c[2])
				s.count++
			}
		}
	}
}

// fill makes pixel i the mean of a square.
func (v *view) fill(i int, s square) {
	share := 1 / float64(s.count)
	v.light[i] = light{float32(share * s.r), float32(share * s.g), float32(share * s.b)}
	v.luminance[i] = float32(v.light[i].luminance())
	v.inside[i] = true
	v.pixels = append(v.pixels, int32(i))
}

// sample returns every n-th pixel inside, about so many in all, row by row.
func (v *view) sample(about int) []int {
	step := max(1, len(v.pixels)/about)
	sampled := make([]int, 0, len(v.pixels)/step+1)
	for next := 0; next < len(v.pixels); next += step {
		sampled = append(sampled, int(v.pixels[next]))
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
