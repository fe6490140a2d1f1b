package main

import (
	"image"
	"image/color"
	"math"
	"math/rand/v2"

	"github.com/disintegration/imaging"
	"golang.org/x/image/draw"
	"golang.org/x/image/math/f64"

	"valvegrade/internal/limit"
)

// The bounds of what a view does to a photo.
const (
	narrowestView = 0.35 // of the photo's sides
	airInView     = 1.15 // of the kept valve's box
	turnOfView    = 12   // degrees, either way
	longestView   = 900  // pixels
)

// view is a photo taken once more, so to speak: a part of it, turned, exposed and saved otherwise.
type view struct {
	crop image.Rectangle // of the photo
	turn float64         // of the crop about its middle, in radians
	// gamma and the gains of red, green and blue apply to values of 0 to 1: gain x value ^ gamma.
	gamma   float64
	gains   [3]float64
	quality int // of the JPEG, 1 to 100
}

// anyView is a view at random of a photo with this frame that holds the box of a valve.
func anyView(r *rand.Rand, frame, valve image.Rectangle) view {
	between := func(low, high float64) float64 { return low + (high-low)*r.Float64() }
	least := max(
		narrowestView,
		airInView*float64(valve.Dx())/float64(frame.Dx()),
		airInView*float64(valve.Dy())/float64(frame.Dy()),
	)
	side := between(min(least, 1), 1)
	start := func(from, to, first, last int) (int, int) {
		length := max(int(side*float64(last-first)), to-from, min(limit.PhotoShortSide, last-first))
		lowest, highest := max(first, to-length), min(from, last-length)
		at := lowest + r.IntN(highest-lowest+1)
		return at, at + length
	}
	var v view
	v.crop.Min.X, v.crop.Max.X = start(valve.Min.X, valve.Max.X, frame.Min.X, frame.Max.X)
	v.crop.Min.Y, v.crop.Max.Y = start(valve.Min.Y, valve.Max.Y, frame.Min.Y, frame.Max.Y)
	if r.IntN(2) == 0 {
		v.turn = between(-turnOfView, turnOfView) * math.Pi / 180
	}
	v.gamma = math.Exp(between(-0.35, 0.35))
	exposure := math.Exp(between(-0.4, 0.4))
	for channel := range v.gains {
		v.gains[channel] = exposure * math.Exp(0.06*r.NormFloat64())
	}
	v.quality = []int{60, 75, 90}[r.IntN(3)]
	return v
}

// scale is the length in the view of a pixel of the photo, 1 at most.
func (v view) scale() float64 { return min(1, longestView/float64(max(v.crop.Dx(), v.crop.Dy()))) }

func (v view) frame() image.Rectangle {
	return image.Rect(0, 0, int(v.scale()*float64(v.crop.Dx())), int(v.scale()*float64(v.crop.Dy())))
}

// fromPhoto takes points of the photo to where they are in the view.
func (v view) fromPhoto() f64.Aff3 {
	sin, cos := math.Sincos(v.turn)
	sin, cos = v.scale()*sin, v.scale()*cos
	middle := v.crop.Min.Add(v.crop.Max)
	x, y := float64(middle.X)/2, float64(middle.Y)/2
	size := v.crop.Size()
	return f64.Aff3{
		cos, -sin, v.scale()*float64(size.X)/2 - cos*x + sin*y,
		sin, cos, v.scale()*float64(size.Y)/2 - sin*x - cos*y,
	}
}

// of draws the view of a photo that mirrored has given a margin, by the mean of areas where it becomes smaller.
func (v view) of(margined *image.NRGBA) *image.NRGBA {
	drawn := image.NewRGBA(v.frame())
	draw.BiLinear.Transform(drawn, v.fromPhoto(), margined, margined.Rect, draw.Src, nil)
	var curves [3][256]uint8
	for channel, gain := range v.gains {
		for code := range curves[channel] {
			value := gain * math.Pow(float64(code)/255, v.gamma)
			curves[channel][code] = uint8(math.Round(255 * min(1, value)))
		}
	}
	return imaging.AdjustFunc(drawn, func(c color.NRGBA) color.NRGBA {
		return color.NRGBA{curves[0][c.R], curves[1][c.G], curves[2][c.B], c.A}
	})
}

// carried shows a mask of the photo as it lies in the view; what is beyond the photo is background.
func (v view) carried(mask *image.Gray) *image.Gray {
	drawn := image.NewGray(v.frame())
	draw.NearestNeighbor.Transform(drawn, v.fromPhoto(), mask, mask.Rect, draw.Src, nil)
	return drawn
}

// save writes the view of a photo with a margin.
func (v view) save(margined *image.NRGBA, path string) error {
	return imaging.Save(v.of(margined), path, imaging.JPEGQuality(v.quality))
}

// mirrored gives a photo a margin of an eighth of its longer side, in which it is mirrored: more than a turned view
// reaches beyond it.
func mirrored(photo *image.NRGBA) *image.NRGBA {
	size := photo.Rect.Size()
	whole := image.NewNRGBA(photo.Rect.Inset(-max(size.X, size.Y) / 8))
	for y := whole.Rect.Min.Y; y < whole.Rect.Max.Y; y++ {
		for x := whole.Rect.Min.X; x < whole.Rect.Max.X; x++ {
			from := photo.PixOffset(reflected(x, size.X), reflected(y, size.Y))
			copy(whole.Pix[whole.PixOffset(x, y):][:4], photo.Pix[from:])
		}
	}
	return whole
}

// reflected is the place within 0 to length-1 that a place outside mirrors, the last ones twice.
func reflected(at, length int) int {
	at = ((at % (2 * length)) + 2*length) % (2 * length)
	return min(at, 2*length-1-at)
}
