package deposit

import (
	"image"

	"valvegrade/pkg/photo"
)

// What counts as unreadable is kept small on purpose. Polished metal is near-white and a caked valve near-black in
// the light of a borescope, and both can be judged; only where the camera recorded nothing can they not:
//
//   - glare: all three channels at their ceiling, over a patch and not on a few grains, with a narrow rim, because bloom
//     and the camera's sharpening spoil the pixels beside it;
//   - black shadow: all three channels at the floor, and nothing standing out of it: the noise that real surfaces show in dim
//     light is missing.
const (
	// ceiling leaves room for JPEG, which moves a clipped 255 by a step or two.
	ceiling = 253
	// floor is where 8-bit sRGB has fewer than one code per 5 % of light: relief of crust no longer makes a step.
	floor = 8
	// flatness is the largest range of codes around a pixel of black shadow.
	flatness = 3
	// smallestPatch is the size of a patch, as a share of the photo's area: 30 pixels at 640 x 480.
	smallestPatch = 1e-4
)

// setAside marks glare and black shadow as Unreadable in the map and returns how many pixels of each there are.
func setAside(p *photo.Photo, classes *image.Gray, box image.Rectangle) (glare, shadow int) {
	smallest := max(4, int(smallestPatch*float64(p.Width*p.Height)))
	burnt, black := clipped(p.Pixels, classes, box)
	burnt, black = patches(burnt, box, smallest), patches(black, box, smallest)
	rim := max(1, max(p.Width, p.Height)/640)
	mark := func(x, y int) (marked int) {
		if c := &classes.Pix[y*classes.Stride+x]; *c <= Heavy {
			*c = Unreadable
			return 1
		}
		return 0
	}
	for _, at := range burnt {
		around := image.Rect(at.X-rim, at.Y-rim, at.X+rim+1, at.Y+rim+1).Intersect(box)
		for y := around.Min.Y; y < around.Max.Y; y++ {
			for x := around.Min.X; x < around.Max.X; x++ {
				glare += mark(x, y)
			}
		}
	}
	for _, at := range black {
		shadow += mark(at.X, at.Y)
	}
	return glare, shadow
}

// clipped returns the valve's pixels of glare and of black shadow, row by row.
func clipped(m *image.NRGBA, classes *image.Gray, box image.Rectangle) (burnt, black []image.Point) {
	for y := box.Min.Y; y < box.Max.Y; y++ {
		pix := m.Pix[y*m.Stride+4*box.Min.X:][:4*box.Dx()]
		row := classes.Pix[y*classes.Stride+box.Min.X:][:box.Dx()]
		for i, class := range row {
			// Green alone rules out most pixels: all between floor and ceiling.
			if class == NotValve || pix[4*i+1]-floor-1 < ceiling-floor-1 {
				continue
			}
			x := box.Min.X + i
			switch {
			case burntOut(m, x, y):
				burnt = append(burnt, image.Pt(x, y))
			case blackedOut(m, x, y):
				black = append(black, image.Pt(x, y))
			}
		}
	}
	return burnt, black
}

func burntOut(m *image.NRGBA, x, y int) bool {
	c := m.Pix[y*m.Stride+4*x:][:3]
	return c[0] >= ceiling && c[1] >= ceiling && c[2] >= ceiling
}

// blackedOut reports whether the pixel is at the floor and the 5 x 5 pixels around it hold no detail.
func blackedOut(m *image.NRGBA, x, y int) bool {
	c := m.Pix[y*m.Stride+4*x:][:3]
	if c[0] > floor || c[1] > floor || c[2] > floor {
		return false
	}
	around := image.Rect(x-2, y-2, x+3, y+3).Intersect(m.Rect)
	for channel := range 3 {
		low, high := uint8(255), uint8(0)
		for v := around.Min.Y; v < around.Max.Y; v++ {
			for u := around.Min.X; u < around.Max.X; u++ {
				code := m.Pix[v*m.Stride+4*u+channel]
				low, high = min(low, code), max(high, code)
			}
		}
		if high-low > flatness {
			return false
		}
	}
	return true
}

// patches returns the pixels in all 4-connected patches of at least `smallest` pixels.
func patches(pixels []image.Point, box image.Rectangle, smallest int) []image.Point {
	if len(pixels) < smallest {
		return nil
	}
	width := box.Dx()
	open := make([]bool, width*box.Dy())
	for _, at := range pixels {
		open[(at.Y-box.Min.Y)*width+at.X-box.Min.X] = true
	}
	var kept []image.Point
	for _, at := range pixels {
		i := (at.Y-box.Min.Y)*width + at.X - box.Min.X
		if !open[i] {
			continue
		}
		before := len(kept)
		kept = flood(kept, open, width, i)
		if len(kept)-before < smallest {
			kept = kept[:before]
		}
	}
	for i := range kept {
		kept[i] = kept[i].Add(box.Min)
	}
	return kept
}

// flood appends the patch around pixel i to found and closes its pixels.
func flood(found []image.Point, open []bool, width, i int) []image.Point {
	open[i] = false
	next := len(found)
	found = append(found, image.Pt(i%width, i/width))
	height := len(open) / width
	for ; next < len(found); next++ {
		at := found[next]
		for _, step := range [4]image.Point{{X: 1}, {X: -1}, {Y: 1}, {Y: -1}} {
			to := at.Add(step)
			if to.X < 0 || to.Y < 0 || to.X >= width || to.Y >= height || !open[to.Y*width+to.X] {
				continue
			}
			open[to.Y*width+to.X] = false
			found = append(found, to)
		}
	}
	return found
}
