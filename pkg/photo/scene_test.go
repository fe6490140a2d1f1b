package photo

import (
	"image"
	"math"
	"math/rand/v2"
)

// canvas is a grey test picture in code values 0 to 255, of which blur and noise are known because the test puts them
// there.
type canvas struct {
	w, h int
	v    []float64
}

func newCanvas(w, h int, fill func(x, y int) float64) canvas {
	c := canvas{w, h, make([]float64, w*h)}
	for i := range c.v {
		c.v[i] = fill(i%w, i/w)
	}
	return c
}

// leaves covers a canvas with overlapping discs of random grey whose radii follow r^-3: the picture of occluding
// objects at all scales, with perfectly sharp edges in all directions. low and high are the darkest and lightest code.
func leaves(w, h int, seed uint64, low, high float64) canvas {
	r := rand.New(rand.NewPCG(seed, 1))
	c := newCanvas(w, h, func(int, int) float64 { return (low + high) / 2 })
	for range w * h / 12 {
		const smallest, largest = 2.0, 100.0
		u := r.Float64()
		radius := 1 / math.Sqrt((1-u)/(smallest*smallest)+u/(largest*largest))
		x0, y0, grey := r.Float64()*float64(w), r.Float64()*float64(h), low+r.Float64()*(high-low)
		for y := max(0, int(y0-radius)); y <= min(h-1, int(y0+radius)); y++ {
			for x := max(0, int(x0-radius)); x <= min(w-1, int(x0+radius)); x++ {
				if math.Hypot(float64(x)-x0, float64(y)-y0) < radius {
					c.v[y*w+x] = grey
				}
			}
		}
	}
	return c
}

// convolve runs a centred kernel over the rows (dx=1, dy=0), the columns (0,1) or any other integer direction.
func (c canvas) convolve(k []float64, dx, dy int) canvas {
	return newCanvas(c.w, c.h, func(x, y int) float64 {
		sum := 0.0
		for i, f := range k {
			t := i - len(k)/2
			sum += f * c.v[min(c.h-1, max(0, y+t*dy))*c.w+min(c.w-1, max(0, x+t*dx))]
		}
		return sum
	})
}

func (c canvas) blurred(sigma float64) canvas {
	radius := int(math.Ceil(4 * sigma))
	k, sum := make([]float64, 2*radius+1), 0.0
	for i := range k {
		t := float64(i - radius)
		k[i] = math.Exp(-t * t / (2 * sigma * sigma))
		sum += k[i]
	}
	for i := range k {
		k[i] /= sum
	}
	return c.convolve(k, 1, 0).convolve(k, 0, 1)
}

// smeared averages over length (odd) pixels along the direction (dx, dy).
func (c canvas) smeared(length, dx, dy int) canvas {
	k := make([]float64, length)
	for i := range k {
		k[i] = 1 / float64(length)
	}
	return c.convolve(k, dx, dy)
}

func (c canvas) noisy(sigma float64, seed uint64) canvas {
	r := rand.New(rand.NewPCG(seed, 2))
	return newCanvas(c.w, c.h, func(x, y int) float64 { return c.v[y*c.w+x] + sigma*r.NormFloat64() })
}

// photo rounds the canvas to 8 bits.
func (c canvas) photo() *Photo {
	img := image.NewNRGBA(image.Rect(0, 0, c.w, c.h))
	for i, v := range c.v {
		code := uint8(math.Round(min(255, max(0, v))))
		img.Pix[4*i], img.Pix[4*i+1], img.Pix[4*i+2], img.Pix[4*i+3] = code, code, code, 255
	}
	return &Photo{Name: "test", Format: "png", Pixels: img, Width: c.w, Height: c.h}
}

// disc is a mask of a round valve.
func disc(w, h int, x0, y0, radius float64) *image.Gray {
	mask := image.NewGray(image.Rect(0, 0, w, h))
	for i := range mask.Pix {
		if math.Hypot(float64(i%w)-x0, float64(i/w)-y0) < radius {
			mask.Pix[i] = 1
		}
	}
	return mask
}
