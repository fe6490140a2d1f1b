package raster

import (
	"encoding/binary"
	"image"
)

// part is the run of source pixels that one target pixel covers along one axis: whole ones [from, to), and shares
// of the one before and the one after, 0 for none. A share of n stands for n/unit of a pixel.
type part struct {
	from, to      int
	before, after uint32
}

// axis is a source axis divided into equal parts. A whole pixel counts unit, all of a part together total.
type axis struct {
	parts       []part
	unit, total uint32
}

// divide divides n source pixels into m equal parts, which may be shorter than a pixel (m > n). In units of 1/m pixel
// all cuts are whole numbers, so nothing is lost to rounding.
func divide(n, m int) axis {
	common := divisor(n, m)
	a := axis{make([]part, m), uint32(m / common), uint32(n / common)}
	unit, total := m/common, n/common
	for i := range a.parts {
		start, end := i*total, (i+1)*total
		p := part{from: (start + unit - 1) / unit, to: end / unit}
		if p.to < p.from { // within one pixel
			a.parts[i] = part{from: p.from, to: p.from, before: uint32(total)}
			continue
		}
		p.before, p.after = uint32(p.from*unit-start), uint32(end-p.to*unit)
		a.parts[i] = p
	}
	return a
}

// divisor is the greatest common divisor.
func divisor(a, b int) int {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}

// Shrink cuts img, 1x1 pixels or more, into width x height equal rectangles and calls take with each row of them: their
// RGB means, three values of 0 to 255 per rectangle, good until the next call. Source pixels are squares of even
// colour; a cut one counts by the share that lies inside. Alpha is left out. The means are exact to float32.
//
// OpenCV's resize by area rounds the means to 8 bits, or needs the whole photo as floats first.
func Shrink(img *image.NRGBA, width, height int, take func(y int, means []float32)) {
	columns, rows := divide(img.Rect.Dx(), width), divide(img.Rect.Dy(), height)
	if columns.unit == 1 && rows.unit == 1 && columns.total*rows.total <= laneRows {
		shrinkWhole(img, int(columns.total), int(rows.total), take)
		return
	}
	row := func(y int) []uint8 { return img.Pix[y*img.Stride:][:4*img.Rect.Dx()] }
	scale := 1 / (float64(columns.total) * float64(rows.total))
	sums, means := newColumnSums(img.Rect.Dx(), rows.unit), make([]float32, 3*width)
	for y, part := range rows.parts {
		clear(sums.sum)
		for at := part.from; at < part.to; at++ {
			sums.add(row(at))
		}
		sums.spill()
		if part.before > 0 {
			sums.addCut(row(part.from-1), part.before)
		}
		if part.after > 0 {
			sums.addCut(row(part.to), part.after)
		}
		for x, part := range columns.parts {
			r, g, b := sums.across(part, uint64(columns.unit))
			mean := means[3*x:][:3]
			mean[0], mean[1], mean[2] = float32(float64(r)*scale), float32(float64(g)*scale), float32(float64(b)*scale)
		}
		take(y, means)
	}
}

// shrinkWhole is Shrink for rectangles of whole pixels, so few that their sums fit into the lanes.
func shrinkWhole(img *image.NRGBA, columns, rows int, take func(y int, means []float32)) {
	width := img.Rect.Dx() / columns
	scale := 1 / float64(columns*rows)
	share := func(sum uint64) float32 { return float32(scale * float64(sum)) }
	sums, means := newColumnSums(img.Rect.Dx(), 1), make([]float32, 3*width)
	for y := range img.Rect.Dy() / rows {
		clear(sums.redBlue)
		clear(sums.greenAlpha)
		for line := range rows {
			sums.addLanes(img.Pix[(y*rows+line)*img.Stride:][:4*img.Rect.Dx()])
		}
		for x := range width {
			from, to := x*columns, (x+1)*columns
			rb, ga := acrossLanes(sums.redBlue, from, to), acrossLanes(sums.greenAlpha, from, to)
			mean := means[3*x:][:3]
			mean[0], mean[1], mean[2] = share(rb&0xffff), share(ga&0xffff), share(rb>>16&0xffff)
		}
		take(y, means)
	}
}

// acrossLanes adds the pixels [from, to) of a row of lanes; the sums are those of the lower pixel of a pair.
func acrossLanes(lanes []uint64, from, to int) (sum uint64) {
	if from%2 == 1 {
		sum = lanes[from/2] >> 32
		from++
	}
	for _, two := range lanes[from/2 : to/2] {
		sum += two
	}
	if to%2 == 1 {
		sum += lanes[to/2] & 0xffffffff
	}
	return sum + sum>>32
}

// columnSums adds rows of pixels. Whole rows, which count unit each, go by two pixels at once into lanes of 16
// bits, which have room for laneRows of them.
type columnSums struct {
	unit                uint32
	redBlue, greenAlpha []uint64
	rows                int
	sum                 []uint32 // three per column
}

const (
	laneRows = 256
	lanes    = 0x00ff00ff00ff00ff
)

func newColumnSums(width int, unit uint32) *columnSums {
	pairs := (width + 1) / 2
	return &columnSums{
		unit: unit, redBlue: make([]uint64, pairs), greenAlpha: make([]uint64, pairs), sum: make([]uint32, 6*pairs),
	}
}

// add adds a whole row; spill must follow the last one.
func (s *columnSums) add(row []uint8) {
	s.addLanes(row)
	if s.rows++; s.rows == laneRows {
		s.spill()
	}
}

// addLanes adds a row to the lanes.
func (s *columnSums) addLanes(row []uint8) {
	pairs := len(row) / 8
	redBlue, greenAlpha := s.redBlue[:pairs], s.greenAlpha[:pairs]
	for i := range redBlue {
		two := binary.LittleEndian.Uint64(row[8*i:][:8])
		redBlue[i] += two & lanes
		greenAlpha[i] += two >> 8 & lanes
	}
	if len(row) > 8*pairs {
		one := uint64(binary.LittleEndian.Uint32(row[8*pairs:]))
		s.redBlue[pairs] += one & lanes
		s.greenAlpha[pairs] += one >> 8 & lanes
	}
}

// spill empties the lanes into the sums.
func (s *columnSums) spill() {
	unit, redBlue, greenAlpha := s.unit, s.redBlue, s.greenAlpha[:len(s.redBlue)]
	for i, rb := range redBlue {
		ga, sum := greenAlpha[i], s.sum[6*i:][:6]
		sum[0] += unit * uint32(rb&0xffff)
		sum[1] += unit * uint32(ga&0xffff)
		sum[2] += unit * uint32(rb>>16&0xffff)
		sum[3] += unit * uint32(rb>>32&0xffff)
		sum[4] += unit * uint32(ga>>32&0xffff)
		sum[5] += unit * uint32(rb>>48)
		redBlue[i], greenAlpha[i] = 0, 0
	}
	s.rows = 0
}

// addCut adds the share of a row that lies inside.
func (s *columnSums) addCut(row []uint8, share uint32) {
	for x := range len(row) / 4 {
		pixel, sum := row[4*x:][:3], s.sum[3*x:][:3]
		sum[0] += share * uint32(pixel[0])
		sum[1] += share * uint32(pixel[1])
		sum[2] += share * uint32(pixel[2])
	}
}

// across adds the columns of a part, whole ones counting unit each.
func (s *columnSums) across(p part, unit uint64) (r, g, b uint64) {
	for sum := s.sum[3*p.from : 3*p.to]; len(sum) >= 3; sum = sum[3:] {
		r, g, b = r+uint64(sum[0]), g+uint64(sum[1]), b+uint64(sum[2])
	}
	r, g, b = r*unit, g*unit, b*unit
	if p.before > 0 {
		sum, share := s.sum[3*p.from-3:][:3], uint64(p.before)
		r, g, b = r+share*uint64(sum[0]), g+share*uint64(sum[1]), b+share*uint64(sum[2])
	}
	if p.after > 0 {
		sum, share := s.sum[3*p.to:][:3], uint64(p.after)
		r, g, b = r+share*uint64(sum[0]), g+share*uint64(sum[1]), b+share*uint64(sum[2])
	}
	return r, g, b
}
