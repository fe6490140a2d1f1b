package draw

import (
	"image"
	"image/color"
	"math"

	"valvegrade/internal/raster"
)

// outline draws the borders of valves, head and stem: a pale line in a dark casing, as wide as suits the picture. The
// border between head and stem, which is a convention and no edge one can see, is drawn thinner.
func (s *scene) outline(picture *image.RGBA) {
	unit := math.Max(1, float64(max(s.width, s.height))/640)
	outer := s.stroke(func(a, b uint8) bool { return valveOf(a) != valveOf(b) })
	inner := s.stroke(func(a, b uint8) bool { return a != b && valveOf(a) == valveOf(b) })
	s.paint(picture, s.cover(outer, 1.7*unit), outlineCasing, 0.75)
	s.paint(picture, s.cover(inner, 0.7*unit), outlineCore, 0.7)
	s.paint(picture, s.cover(outer, 0.8*unit), outlineCore, 1)
}

// valveOf returns the rank of the valve that a label belongs to, 0 for the background: 1 and 2 are head and stem of the
// first.
func valveOf(label uint8) uint8 { return (label + 1) / 2 }

// stroke returns the indices of the pixels that have a right or lower neighbour across the border.
func (s *scene) stroke(border func(a, b uint8) bool) []int {
	var on []int
	for y := range s.height {
		row := s.labels[y*s.width:][:s.width]
		below := row // the last row has none below it, and none has a border with itself
		if y+1 < s.height {
			below = s.labels[(y+1)*s.width:][:s.width]
		}
		for from := 0; from < s.width; {
			to := raster.RunEnd(row, from)
			to = raster.RunEnd(below[:to], from)
			switch {
			case border(row[from], below[from]):
				for x := from; x < to; x++ {
					on = append(on, y*s.width+x)
				}
			case to < s.width && border(row[from], row[to]):
				on = append(on, y*s.width+to-1)
			}
			from = to
		}
	}
	return on
}

// cover returns how far each pixel, 0 to 255, is covered by discs of the radius around the stroke's pixels; the rim of
// a disc fades over one pixel, which smooths the line.
func (s *scene) cover(stroke []int, radius float64) []uint8 {
	covered := make([]uint8, len(s.labels))
	reach := int(math.Ceil(radius + 0.5))
	stamp := make([]uint8, 0, (2*reach+1)*(2*reach+1))
	for dy := -reach; dy <= reach; dy++ {
		for dx := -reach; dx <= reach; dx++ {
			edge := radius + 0.5 - math.Hypot(float64(dx), float64(dy))
			stamp = append(stamp, uint8(255*min(1, max(0, edge))))
		}
	}
	for _, i := range stroke {
		x, y, k := i%s.width, i/s.width, 0
		for dy := -reach; dy <= reach; dy++ {
			for dx := -reach; dx <= reach; dx, k = dx+1, k+1 {
				if px, py := x+dx, y+dy; px >= 0 && px < s.width && py >= 0 && py < s.height {
					covered[py*s.width+px] = max(covered[py*s.width+px], stamp[k])
				}
			}
		}
	}
	return covered
}

func (s *scene) paint(picture *image.RGBA, covered []uint8, c color.RGBA, alpha float64) {
	var glazes [256]*glaze
	for i := 0; i < len(covered); i++ {
		v := covered[i]
		if v == 0 {
			i = raster.RunEnd(covered, i) - 1
			continue
		}
		if glazes[v] == nil {
			g := glazeOf(c, alpha*float64(v)/255)
			glazes[v] = &g
		}
		glazes[v].lay(picture.Pix[4*i:])
	}
}
