package draw

import (
	"image"
	"image/color"
	"math"

	"valvegrade/pkg/compare"
	"valvegrade/pkg/region"
	"valvegrade/pkg/unroll"
)

// headOnSide is the side of a picture of a head as seen along its stem, in pixels.
const headOnSide = 560

// HeadOn is a head as seen along its stem, 12 at the top: pose, zoom and roll of the camera drop out. The valve's map says
// where the head lies in the photo. It is transparent beyond the rim and where the photo does not show it; nil without an
// outline.
func HeadOn(photo *image.NRGBA, valve *unroll.Packed) *image.NRGBA {
	rim, stem := valve.Outlines()
	if rim == nil {
		return nil
	}
	u := region.NewUnwrap(*rim, stem)
	return disc(func(x, y float64) color.NRGBA {
		p := u.HeadOn(x, y)
		return sampled(photo, p.X, p.Y)
	})
}

// Onto turns the head of a second photo, drawn by HeadOn, so that it lies on that of the first.
func Onto(second *image.NRGBA, r *compare.Registration) *image.NRGBA {
	return disc(func(x, y float64) color.NRGBA {
		x, y = r.Onto(x, y)
		if math.Hypot(x, y) > 1 {
			return color.NRGBA{}
		}
		return sampled(second, (x+1)/2*headOnSide-0.5, (y+1)/2*headOnSide-0.5)
	})
}

// disc draws what at gives for places within the unit circle.
func disc(at func(x, y float64) color.NRGBA) *image.NRGBA {
	picture := image.NewNRGBA(image.Rect(0, 0, headOnSide, headOnSide))
	for row := range headOnSide {
		for column := range headOnSide {
			x, y := 2*(float64(column)+0.5)/headOnSide-1, 2*(float64(row)+0.5)/headOnSide-1
			if x*x+y*y <= 1 {
				picture.SetNRGBA(column, row, at(x, y))
			}
		}
	}
	return picture
}

// sampled interpolates between the four pixels around a place; nothing lies beyond the edges.
func sampled(m *image.NRGBA, x, y float64) color.NRGBA {
	left, top := int(math.Floor(x)), int(math.Floor(y))
	if left < 0 || top < 0 || left+1 >= m.Rect.Dx() || top+1 >= m.Rect.Dy() {
		return color.NRGBA{}
	}
	fx, fy := x-float64(left), y-float64(top)
	upper, lower := m.Pix[top*m.Stride+4*left:], m.Pix[(top+1)*m.Stride+4*left:]
	var mixed [4]uint8
	for k := range mixed {
		above := float64(upper[k])*(1-fx) + float64(upper[4+k])*fx
		below := float64(lower[k])*(1-fx) + float64(lower[4+k])*fx
		mixed[k] = uint8(above*(1-fy) + below*fy + 0.5)
	}
	return color.NRGBA{mixed[0], mixed[1], mixed[2], mixed[3]}
}
