package photo

import (
	"image"
	"math"
)

// beside is how far around a block its steepest places are judged by: one pixel across an edge, and two that its slope
// takes in.
const beside = 3

// softSide is the side of the largest block with what lies beside it.
const softSide = largestBlock + 2*beside

// soft is a block of a plane and what lies beside it, blurred with the binomial 1 4 6 4 1, variance 1, both ways. Most
// of a large valve is in no block that is looked at, so nothing else is blurred.
type soft struct {
	area image.Rectangle // of the plane
	luma [softSide * softSide]float32
}

// blur blurs the pixels in the area, at least two away from the border.
func (s *soft) blur(p plane, area image.Rectangle) {
	s.area = area
	width := area.Dx()
	var kept [5][softSide]float32 // rows blurred along themselves: the five that a column reaches
	for y := area.Min.Y - 2; y < area.Max.Y+2; y++ {
		in := p.Value[y*p.Width+area.Min.X-2:][:width+4]
		binomial(kept[y%5][:width], in, in[1:], in[2:], in[3:], in[4:])
		if y < area.Min.Y+2 {
			continue
		}
		out := s.luma[(y-2-area.Min.Y)*softSide:][:width]
		binomial(out, kept[(y-4)%5][:], kept[(y-3)%5][:], kept[(y-2)%5][:], kept[(y-1)%5][:], kept[y%5][:])
	}
}

// binomial weights five sequences, each at least as long as out, by 1 4 6 4 1.
func binomial(out, a, b, c, d, e []float32) {
	n := len(out)
	a, b, c, d, e = a[:n], b[:n], c[:n], d[:n], e[:n]
	for i := range out {
		out[i] = 1.0/16*(a[i]+e[i]) + 4.0/16*(b[i]+d[i]) + 6.0/16*c[i]
	}
}

// steepest returns for each direction the position of the steepest pixel of a block, -1 where none reaches half of
// least (the filters weigh slopes differently; ratio decides) or where the edge itself lies in another block.
func (p plane) steepest(corner image.Point, block int, least float64) [bins]int {
	var best [bins]float32
	var at [bins]image.Point
	found := [bins]int{-1, -1, -1, -1, -1, -1}
	inside := image.Rect(0, 0, p.Width, p.Height).Inset(reach)
	looked := image.Rectangle{corner, corner.Add(image.Pt(block, block))}.Intersect(inside)
	if looked.Empty() {
		return found
	}
	var s soft
	s.blur(p, looked.Inset(-beside))
	floor := float32(least * least / 4)
	for y := looked.Min.Y; y < looked.Max.Y; y++ {
		for x := looked.Min.X; x < looked.Max.X; x++ {
			gx, gy := s.slope(x, y)
			m := gx*gx + gy*gy
			if m < floor {
				continue
			}
			if b := direction(gx, gy); m > best[b] {
				best[b], at[b] = m, image.Pt(x, y)
			}
		}
	}
	for b, m := range best {
		if m > 0 && s.ridge(at[b].X, at[b].Y, m) {
			found[b] = at[b].Y*p.Width + at[b].X
		}
	}
	return found
}

// slope is a Sobel filter of twice the usual spacing, in codes per pixel, at a pixel of the plane.
func (s *soft) slope(x, y int) (gx, gy float32) {
	i := (y-s.area.Min.Y)*softSide + x - s.area.Min.X
	a, b, c := s.luma[i-2*softSide-2:][:5], s.luma[i-2:][:5], s.luma[i+2*softSide-2:][:5]
	gx = (a[4] - a[0] + 2*(b[4]-b[0]) + c[4] - c[0]) / 16
	gy = (c[0] - a[0] + 2*(c[2]-a[2]) + c[4] - a[4]) / 16
	return gx, gy
}

// direction sorts a slope into its bin: bin b is centred on b*30 degrees.
func direction(gx, gy float32) int {
	const tan15, tan45, tan75 = 0.267949, 1, 3.732051
	ax, ay := max(gx, -gx), max(gy, -gy)
	b := 3
	switch {
	case ay < tan15*ax:
		b = 0
	case ay < tan45*ax:
		b = 1
	case ay < tan75*ax:
		b = 2
	}
	if gx*gy < 0 && b > 0 && b < 3 {
		b = bins - b
	}
	return b
}

// ridge reports whether a pixel's squared slope is not exceeded by its neighbours across the edge.
func (s *soft) ridge(x, y int, m float32) bool {
	gx, gy := s.slope(x, y)
	length := float64(max(max(gx, -gx), max(gy, -gy)))
	sx, sy := int(math.Round(float64(gx)/length)), int(math.Round(float64(gy)/length))
	for _, sign := range [2]int{-1, 1} {
		nx, ny := s.slope(x+sign*sx, y+sign*sy)
		if nx*nx+ny*ny > m {
			return false
		}
	}
	return true
}
