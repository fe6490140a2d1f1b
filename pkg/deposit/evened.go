package deposit

import (
	"image"
	"image/color"

	"valvegrade/pkg/colour"
	"valvegrade/pkg/photo"
)

// EvenedLight shows the readable valve as texture sees it: its lightness when the fall-off of the light is divided out,
// cut out of the photo and shrunk. It is transparent elsewhere, and empty when d has no valve.
func EvenedLight(p *photo.Photo, d *Deposit) *image.NRGBA {
	var box image.Rectangle
	for y := range d.Map.Rect.Dy() {
		for x, class := range d.Map.Pix[y*d.Map.Stride:][:d.Map.Rect.Dx()] {
			if class != NotValve {
				box = box.Union(image.Rect(x, y, x+1, y+1))
			}
		}
	}
	if box.Empty() {
		return image.NewNRGBA(box)
	}
	v := viewOf(p, d.Map, box)
	defer v.release()
	v.evenOut()
	picture := image.NewNRGBA(image.Rect(0, 0, v.Width, v.Height))
	for _, i := range v.pixels {
		grey := uint8(2.55*colour.Lightness(min(1, metalLuminance*float64(v.Value[i]))) + 0.5)
		picture.SetNRGBA(int(i)%v.Width, int(i)/v.Width, color.NRGBA{grey, grey, grey, 0xff})
	}
	return picture
}
