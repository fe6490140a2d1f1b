package photo

import (
	"image"
	"slices"

	"valvegrade/internal/raster"
	"valvegrade/pkg/texture"
)

// frameSide is the long side, in pixels, of the frame that quality figures refer to.
const frameSide = 640

// margin is how far, in working pixels, the crop reaches beyond the valve: the outline of the valve is its best edge,
// and the coarsest edge filter is that wide.
const margin = 48

// plane holds encoded luma, 0 to 255 (ITU-R BT.709 weights on sRGB code values, in which noise is about even); what is
// inside is valve.
type plane struct{ texture.Picture }

// newPlane has no valve and luma 0.
func newPlane(width, height int) plane {
	size := width * height
	return plane{
		texture.Picture{Width: width, Height: height, Value: make([]float32, size), Inside: make([]bool, size)},
	}
}

// frame is the part of a photo around its valve at working size.
type frame struct {
	plane
	// step is how many photo pixels a working pixel is wide, unit how many pixels of the 640-pixel frame.
	step int
	unit float64
	// valvePixels counts the valve's working pixels, usablePixels those of the whole photo inside the field stop.
	valvePixels  int
	usablePixels float64
}

// crop takes out the valve (nil mask: what is inside the field stop) with a margin around it, at working size.
func crop(img *image.NRGBA, mask *image.Gray, stop fieldStop) frame {
	size := img.Rect.Size()
	step := max(1, max(size.X, size.Y)/frameSide)
	whole := image.Rect(0, 0, size.X/step, size.Y/step)
	valve := workingMask(mask, stop, whole.Size(), step)
	box, pixels := bounds(valve, whole.Size())
	f := frame{
		step:         step,
		unit:         float64(step*frameSide) / float64(max(size.X, size.Y)),
		valvePixels:  pixels,
		usablePixels: stop.area(size) / float64(step*step),
	}
	if pixels == 0 {
		return f
	}
	box = box.Inset(-margin).Intersect(whole)
	f.plane = newPlane(box.Dx(), box.Dy())
	f.fill(img, box, step)
	for y := range f.Height {
		from := (box.Min.Y+y)*whole.Dx() + box.Min.X
		copy(f.Inside[y*f.Width:(y+1)*f.Width], valve[from:])
	}
	return f
}

// workingMask tells for each working pixel whether its middle is valve.
func workingMask(mask *image.Gray, stop fieldStop, size image.Point, step int) []bool {
	valve := make([]bool, size.X*size.Y)
	for y := range size.Y {
		row := valve[y*size.X : (y+1)*size.X]
		middle := y*step + step/2
		if mask == nil {
			for x := range row {
				row[x] = stop.holds(x*step+step/2, middle)
			}
			continue
		}
		labels := mask.Pix[middle*mask.Stride+step/2:]
		if step == 1 {
			for x, label := range labels[:len(row)] {
				row[x] = label != 0
			}
			continue
		}
		for x := range row {
			row[x] = labels[x*step] != 0
		}
	}
	return valve
}

// bounds is the smallest rectangle around the set pixels, and how many they are.
func bounds(set []bool, size image.Point) (box image.Rectangle, count int) {
	for y := range size.Y {
		row := set[y*size.X : (y+1)*size.X]
		first := slices.Index(row, true)
		if first < 0 {
			continue
		}
		last := first
		for x, on := range row[first:] {
			if on {
				count++
				last = first + x
			}
		}
		box = box.Union(image.Rect(first, y, last+1, y+1))
	}
	return box, count
}

// The shares of red, green and blue in luma (ITU-R BT.709), and of their codes.
const redShare, greenShare, blueShare = 0.2126, 0.7152, 0.0722

var redLuma, greenLuma, blueLuma = lumaShares(redShare), lumaShares(greenShare), lumaShares(blueShare)

func lumaShares(weight float32) (shares [256]float32) {
	for code := range shares {
		shares[code] = weight * float32(code)
	}
	return shares
}

// fill sets the luma of the working pixels in a box of the plane's size, each the mean of step x step photo pixels.
func (p plane) fill(img *image.NRGBA, box image.Rectangle, step int) {
	seen := img.SubImage(image.Rectangle{box.Min.Mul(step), box.Max.Mul(step)}).(*image.NRGBA)
	if step == 1 {
		for y := range box.Dy() {
			pix := seen.Pix[y*seen.Stride:][:4*box.Dx()]
			row := p.Value[y*p.Width:][:p.Width]
			for x := range row {
				c := pix[4*x:][:3]
				row[x] = redLuma[c[0]] + greenLuma[c[1]] + blueLuma[c[2]]
			}
		}
		return
	}
	raster.Shrink(seen, box.Dx(), box.Dy(), func(y int, means []float32) {
		row := p.Value[y*p.Width:][:p.Width]
		for x := range row {
			c := means[3*x:][:3]
			row[x] = redShare*c[0] + greenShare*c[1] + blueShare*c[2]
		}
	})
}

// half averages 2x2 pixels into one; a pixel is valve when one of its four was.
func (p plane) half() plane {
	h := newPlane(p.Width/2, p.Height/2)
	for y := range h.Height {
		for x := range h.Width {
			a := 2*y*p.Width + 2*x
			b := a + p.Width
			h.Value[y*h.Width+x] = (p.Value[a] + p.Value[a+1] + p.Value[b] + p.Value[b+1]) / 4
			h.Inside[y*h.Width+x] = p.Inside[a] || p.Inside[a+1] || p.Inside[b] || p.Inside[b+1]
		}
	}
	return h
}
