package photo

import (
	"image"
	"slices"
)

// frameSide is the long side, in pixels, of the frame that quality figures refer to.
const frameSide = 640

// margin is how far, in working pixels, the crop reaches beyond the valve: the outline of the valve is its best edge, and
// the coarsest edge filter is that wide.
const margin = 48

// plane holds encoded luma, 0 to 255 (ITU-R BT.709 weights on sRGB code values, in which noise is about even), row by row,
// and which of its pixels are valve.
type plane struct {
	w, h  int
	luma  []float32
	valve []bool
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
	f.plane = plane{w: box.Dx(), h: box.Dy(), luma: make([]float32, box.Dx()*box.Dy()), valve: make([]bool, box.Dx()*box.Dy())}
	for y := range f.h {
		lumaRow(f.luma[y*f.w:(y+1)*f.w], img, image.Pt(box.Min.X, box.Min.Y+y), step)
		from := (box.Min.Y+y)*whole.Dx() + box.Min.X
		copy(f.valve[y*f.w:(y+1)*f.w], valve[from:])
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

// The shares of red, green and blue in luma, by code.
var redLuma, greenLuma, blueLuma = lumaShares(0.2126), lumaShares(0.7152), lumaShares(0.0722)

func lumaShares(weight float32) (shares [256]float32) {
	for code := range shares {
		shares[code] = weight * float32(code)
	}
	return shares
}

// lumaRow fills one row of working pixels that starts at the working position at, averaging step x step photo pixels each.
func lumaRow(row []float32, img *image.NRGBA, at image.Point, step int) {
	if step == 1 {
		pix := img.Pix[at.Y*img.Stride+4*at.X:][:4*len(row)]
		for x := range row {
			c := pix[4*x:][:3]
			row[x] = redLuma[c[0]] + greenLuma[c[1]] + blueLuma[c[2]]
		}
		return
	}
	clear(row)
	for dy := range step {
		pix := img.Pix[(at.Y*step+dy)*img.Stride+at.X*step*4:]
		for x := range row {
			for range step {
				row[x] += redLuma[pix[0]] + greenLuma[pix[1]] + blueLuma[pix[2]]
				pix = pix[4:]
			}
		}
	}
	if step > 1 {
		scale := 1 / float32(step*step)
		for x := range row {
			row[x] *= scale
		}
	}
}

// half averages 2x2 pixels into one; a pixel is valve when one of its four was.
func (p plane) half() plane {
	h := plane{w: p.w / 2, h: p.h / 2}
	h.luma, h.valve = make([]float32, h.w*h.h), make([]bool, h.w*h.h)
	for y := range h.h {
		for x := range h.w {
			a := 2*y*p.w + 2*x
			b := a + p.w
			h.luma[y*h.w+x] = (p.luma[a] + p.luma[a+1] + p.luma[b] + p.luma[b+1]) / 4
			h.valve[y*h.w+x] = p.valve[a] || p.valve[a+1] || p.valve[b] || p.valve[b+1]
		}
	}
	return h
}
