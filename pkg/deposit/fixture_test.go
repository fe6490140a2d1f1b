package deposit

import (
	"image"
	"math"

	"valvegrade/pkg/colour"
	"valvegrade/pkg/photo"
	"valvegrade/pkg/region"
)

// scene is a made-up photo: a round head with a stem upwards, what its surface looks like and what the net says of it.
type scene struct {
	width, height int
	// light returns linear red, green and blue of a valve pixel.
	light func(x, y int) [3]float64
	// class returns what the net believes, with the given sureness in logits.
	class func(x, y int) uint8
	sure  float32
}

// plain is a bare valve of even brightness at 640 x 480.
func plain() scene {
	return scene{
		width: 640, height: 480, sure: 3,
		light: func(x, y int) [3]float64 { return [3]float64{0.3, 0.3, 0.3} },
		class: func(x, y int) uint8 { return Bare },
	}
}

func (s scene) label(x, y int) uint8 {
	unit := float64(s.height) / 480
	dx, dy := float64(x)-float64(s.width)/2, float64(y)-280*unit
	switch {
	case math.Abs(dx) < 25*unit && dy < 0 && dy > -260*unit:
		return region.Stem
	case dx*dx+dy*dy < 150*150*unit*unit:
		return region.Head
	default:
		return region.Background
	}
}

func (s scene) photo() *photo.Photo {
	m := image.NewNRGBA(image.Rect(0, 0, s.width, s.height))
	for y := range s.height {
		for x := range s.width {
			light := [3]float64{0.1, 0.1, 0.1}
			if s.label(x, y) != region.Background {
				light = s.light(x, y)
			}
			at := m.PixOffset(x, y)
			for channel, l := range light {
				m.Pix[at+channel] = uint8(math.Round(255 * colour.Encode(l)))
			}
			m.Pix[at+3] = 255
		}
	}
	return &photo.Photo{Name: "made-up", Pixels: m, Width: s.width, Height: s.height}
}

func (s scene) region() *region.Region {
	r := &region.Region{Mask: image.NewGray(image.Rect(0, 0, s.width, s.height)), Confidence: 0.95, Source: region.Auto}
	for y := range s.height {
		for x := range s.width {
			label := s.label(x, y)
			r.Mask.Pix[y*s.width+x] = label
			switch label {
			case region.Head:
				r.HeadPixels++
			case region.Stem:
				r.StemPixels++
			}
		}
	}
	r.Evidence = s.evidence()
	return r
}

// evidence fills a grid of 160 cells across.
func (s scene) evidence() *region.Evidence {
	size := float64(s.width) / 160
	e := &region.Evidence{Cols: 160, Rows: int(float64(s.height) / size), CellWidth: size, CellHeight: size}
	e.Frame.IndexError = 0.01
	for k := range 3 {
		e.Region[k], e.Deposit[k] = make([]float32, e.Cols*e.Rows), make([]float32, e.Cols*e.Rows)
	}
	for i := range e.Cols * e.Rows {
		x, y := int((float64(i%e.Cols)+0.5)*size), int((float64(i/e.Cols)+0.5)*size)
		label, class := s.label(x, y), s.class(x, y)
		for k := range 3 {
			e.Region[k][i], e.Deposit[k][i] = -4, -s.sure
			if int(label) == k {
				e.Region[k][i] = 4
			}
			if int(class) > k {
				e.Deposit[k][i] = s.sure
			}
		}
	}
	return e
}

// speckle is a repeatable number from 0 to 1 for each grain of the given size in pixels.
func speckle(x, y, grain int) float64 {
	h := uint32(x/grain)*2654435761 ^ uint32(y/grain)*2246822519
	h ^= h >> 15
	h *= 2654435761
	h ^= h >> 13
	return float64(h%4096) / 4095
}

// fallOff is light at a lens above the middle of the photo: four times as bright in the middle as in the corners.
func fallOff(x, y int) float64 {
	dx, dy := float64(x-320)/400, float64(y-240)/400
	return 1 / (1 + 3*(dx*dx+dy*dy))
}

func grey(level float64) [3]float64 { return [3]float64{level, level, level} }

// noise is what a camera adds: about a code and a half at middle brightness.
func noise(x, y int) float64 { return 1 + 0.02*(speckle(x, y, 1)-0.5) }

// lumpy is rough crust under even light: shading of grains of 12 pixels by about a fifth.
func lumpy(x, y int) float64 { return 0.5 + speckle(x, y, 12) }
