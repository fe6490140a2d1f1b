package region

// A photo may be looked at in another size than it has in its file: these turn outlines from one into the other.
// Lengths are divided or multiplied by the factor; the centre of the first pixel lies at (0,0) in both.

// Shrunk returns the marks for a photo of which each pixel is the mean of factor x factor pixels.
func (m *Marks) Shrunk(factor int) *Marks {
	if factor == 1 {
		return m
	}
	k := float64(factor)
	place := func(v float64) float64 { return (v - (k-1)/2) / k }
	shrunk := &Marks{By: m.By, FindOthers: m.FindOthers}
	for n, o := range m.outlines() {
		if o = o.shrunk(k); n == 0 {
			shrunk.Head, shrunk.Stem = o.Head, o.Stem
		} else {
			shrunk.Others = append(shrunk.Others, o)
		}
	}
	for _, s := range m.Painted {
		stroke := Stroke{Paint: s.Paint, Width: s.Width / k}
		for _, p := range s.Path {
			stroke.Path = append(stroke.Path, Point{place(p.X), place(p.Y)})
		}
		shrunk.Painted = append(shrunk.Painted, stroke)
	}
	return shrunk
}

// Enlarged undoes Shrunk for an outline of the head.
func (e Ellipse) Enlarged(factor int) Ellipse {
	k := float64(factor)
	return Ellipse{k*e.X + (k-1)/2, k*e.Y + (k-1)/2, k * e.A, k * e.B, e.Angle}
}

// Enlarged undoes Shrunk for a stem.
func (l Line) Enlarged(factor int) Line {
	k := float64(factor)
	place := func(v float64) float64 { return k*v + (k-1)/2 }
	return Line{place(l.X1), place(l.Y1), place(l.X2), place(l.Y2), k * l.Width}
}
