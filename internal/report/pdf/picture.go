package pdf

import "valvegrade/pkg/report"

// picture is shown as large as the width and the height allow.
type picture struct {
	*report.Picture
	highest float64
}

func (b picture) size(width float64) (w, h float64) {
	ratio := float64(b.Height) / float64(b.Width)
	if h = width * ratio; h > b.highest {
		return b.highest / ratio, b.highest
	}
	return width, h
}

func (b picture) height(width float64) float64 {
	_, h := b.size(width)
	return h
}

func (b picture) draw(s *sheet, x, y, width float64) {
	w, h := b.size(width)
	s.picture(b.Picture, x, y, w, h)
}

// natural is the width at the greatest height.
func (b picture) natural() float64 {
	return b.highest * float64(b.Width) / float64(b.Height)
}
