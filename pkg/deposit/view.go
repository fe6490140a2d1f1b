package deposit

import (
	"image"
	"math"
	"slices"
	"sync"

	"valvegrade/internal/raster"
	"valvegrade/pkg/colour"
	"valvegrade/pkg/photo"
	"valvegrade/pkg/texture"
)

// workingSide is the longest side, in pixels, of the photo as colour and texture see it: larger photos are shrunk, so
// that a grain of crust has about the same size in pixels whatever the camera.
const workingSide = 640

// view is the readable valve, cut out of the photo and shrunk by a whole factor, row by row.
type view struct {
	// Picture is the luminance of light, after evenOut relative to what metal would show at the same place. Inside are
	// pixels of which at least half is readable valve; elsewhere the luminance is 0.
	texture.Picture
	// light is linear light, 0 to 1, as the camera saw it; only that of pixels inside counts.
	light []light
	// pixels lists those inside.
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

// spare keeps released views for the next use: fresh memory of several MB costs more time to clear than to fill.
var spare = sync.Pool{New: func() any { return new(view) }}

// release gives the view's memory to the next one; the view must not be used afterwards.
func (v *view) release() { spare.Put(v) }

// sized returns n values of any content, in the memory of s where it is enough.
func sized[T any](s []T, n int) []T { return slices.Grow(s[:0], n)[:n] }

// viewOf cuts the valve out of p; release it after use.
func viewOf(p *photo.Photo, classes *image.Gray, box image.Rectangle) *view {
	factor := (max(p.Width, p.Height) + workingSide - 1) / workingSide
	v := spare.Get().(*view)
	v.Width, v.Height = (box.Dx()+factor-1)/factor, (box.Dy()+factor-1)/factor
	size := v.Width * v.Height
	v.light, v.Value = sized(v.light, size), sized(v.Value, size)
	v.Inside, v.class = sized(v.Inside, size), sized(v.class, size)
	v.pixels = sized(v.pixels, size)[:0]
	if factor == 1 {
		v.copy(p.Pixels, classes, box)
	} else {
		v.shrink(p.Pixels, classes, box, factor)
	}
	return v
}

// code is what a view needs to know of an 8-bit code of sRGB: its linear light, and its part in the luminance of a
// pixel.
type code struct {
	light  float32
	shares [3]float64
}

var codeTable = sync.OnceValue(func() *[256]code {
	var table [256]code
	for c := range table {
		light := float32(colour.Linear(uint8(c)))
		l := float64(light)
		table[c] = code{
			light,
			[3]float64{colour.Luminance(l, 0, 0), colour.Luminance(0, l, 0), colour.Luminance(0, 0, l)},
		}
	}
	return &table
})

// copy fills a view that is not shrunk.
func (v *view) copy(photo *image.NRGBA, classes *image.Gray, box image.Rectangle) {
	codes, pixels := codeTable(), v.pixels
	for y := range v.Height {
		row := classes.Pix[(box.Min.Y+y)*classes.Stride+box.Min.X:][:v.Width]
		pix := photo.Pix[(box.Min.Y+y)*photo.Stride+4*box.Min.X:][:4*v.Width]
		at := y * v.Width
		copy(v.class[at:], row)
		seen, luminance, inside := v.light[at:][:v.Width], v.Value[at:][:v.Width], v.Inside[at:][:v.Width]
		for x, class := range row {
			if inside[x] = class <= Heavy; !inside[x] {
				luminance[x] = 0
				continue
			}
			rgb := pix[4*x:][:3]
			r, g, b := &codes[rgb[0]], &codes[rgb[1]], &codes[rgb[2]]
			seen[x] = light{r.light, g.light, b.light}
			luminance[x] = float32(r.shares[0] + g.shares[1] + b.shares[2])
			pixels = append(pixels, int32(at+x))
		}
	}
	v.pixels = pixels
}

// shrink fills a view of which each pixel is a square of the photo.
func (v *view) shrink(photo *image.NRGBA, classes *image.Gray, box image.Rectangle, factor int) {
	squares := make([]square, v.Width)
	for y := range v.Height {
		clear(squares)
		top, bottom := box.Min.Y+y*factor, min(box.Min.Y+(y+1)*factor, box.Max.Y)
		for row := top; row < bottom; row++ {
			labels := classes.Pix[row*classes.Stride+box.Min.X:][:box.Dx()]
			add(squares, factor, labels, photo.Pix[row*photo.Stride+4*box.Min.X:])
		}
		middle := classes.Pix[(top+(bottom-top)/2)*classes.Stride+box.Min.X:][:box.Dx()]
		for x := range squares {
			left, right := x*factor, min((x+1)*factor, box.Dx())
			i := y*v.Width + x
			v.class[i] = middle[left+(right-left)/2]
			v.Inside[i], v.Value[i] = false, 0
			if 2*squares[x].count >= (right-left)*(bottom-top) {
				v.fill(i, squares[x])
			}
		}
	}
}

// square sums the linear light of the readable pixels in a square of the photo, in units of 1/fixed.
type square struct {
	r, g, b uint64
	count   int
}

// fixed makes linear light a whole number, of which sums take less time. Even a square of 100 000 pixels stays far
// below 2^64, and the least light, 0.0003, keeps nine digits.
const fixed = 1 << 40

var fixedLight = sync.OnceValue(func() *[256]uint64 {
	var table [256]uint64
	for c := range table {
		table[c] = uint64(math.Round(fixed * colour.Linear(uint8(c))))
	}
	return &table
})

// add adds a row of the photo to the squares, each factor pixels wide.
func add(squares []square, factor int, classes, pix []uint8) {
	lights := fixedLight()
	for from := 0; from < len(classes); {
		to := raster.RunEnd(classes, from)
		if classes[from] > Heavy {
			from = to
			continue
		}
		for from < to {
			s := &squares[from/factor]
			end := min(to, (from/factor+1)*factor)
			r, g, b := s.r, s.g, s.b
			for c := pix[4*from : 4*end]; len(c) >= 4; c = c[4:] {
				r, g, b = r+lights[c[0]], g+lights[c[1]], b+lights[c[2]]
			}
			s.r, s.g, s.b, s.count = r, g, b, s.count+end-from
			from = end
		}
	}
}

// fill makes pixel i the mean of a square.
func (v *view) fill(i int, s square) {
	share := 1 / (fixed * float64(s.count))
	v.light[i] = light{float32(share * float64(s.r)), float32(share * float64(s.g)), float32(share * float64(s.b))}
	v.Value[i] = float32(v.light[i].luminance())
	v.Inside[i] = true
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

// relief is the detail of the evened luminance at two scales.
type relief struct {
	fine, coarse           texture.Detail
	finePlane, coarsePlane texture.Picture
}

// coarser is the factor between the two scales.
const coarser = 4

func (v *view) relief() relief {
	coarse := v.Reduce(coarser)
	return relief{texture.DetailOf(v.Picture), texture.DetailOf(coarse), v.Picture, coarse}
}
