package deposit

import (
	"image"

	"valvegrade/internal/raster"
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
	clipped := clippedIn(p.Pixels, classes, box)
	burnt, black := clipped.patches(burntPixel, smallest), clipped.patches(blackPixel, smallest)
	rim := max(1, max(p.Width, p.Height)/640)
	mark := func(x, y int) (marked int) {
		if c := &classes.Pix[y*classes.Stride+x]; *c <= Heavy {
			*c = Unreadable
			return 1
		}
		return 0
	}
	for _, i := range burnt {
		x, y, rim := box.Min.X+int(i)%clipped.width, box.Min.Y+int(i)/clipped.width, rim
		if clipped.surrounded(int(i)) { // the rims of those around it cover its own
			rim = 0
		}
		around := image.Rect(x-rim, y-rim, x+rim+1, y+rim+1).Intersect(box)
		for y := around.Min.Y; y < around.Max.Y; y++ {
			for x := around.Min.X; x < around.Max.X; x++ {
				glare += mark(x, y)
			}
		}
	}
	for _, i := range black {
		shadow += mark(box.Min.X+int(i)%clipped.width, box.Min.Y+int(i)/clipped.width)
	}
	return glare, shadow
}

// clippedIn finds the valve's pixels of glare and of black shadow.
func clippedIn(m *image.NRGBA, classes *image.Gray, box image.Rectangle) *clipped {
	c := &clipped{width: box.Dx(), kind: make([]uint8, box.Dx()*box.Dy())}
	for y := box.Min.Y; y < box.Max.Y; y++ {
		kinds := c.kind[(y-box.Min.Y)*c.width:][:c.width]
		row := classes.Pix[y*classes.Stride:][:box.Max.X]
		for x := box.Min.X; x < len(row); {
			end := raster.RunEnd(row, x)
			if row[x] == NotValve {
				x = end
				continue
			}
			for pix := m.Pix[y*m.Stride+4*x:]; x < end; x, pix = x+1, pix[4:] {
				// Green alone rules out most pixels: all between floor and ceiling.
				if pix[1]-floor-1 < ceiling-floor-1 {
					continue
				}
				switch {
				case burntOut(m, x, y):
					kinds[x-box.Min.X] = burntPixel
				case blackedOut(m, x, y):
					kinds[x-box.Min.X] = blackPixel
				}
			}
		}
	}
	return c
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
