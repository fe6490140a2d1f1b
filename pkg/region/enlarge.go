package region

import "image"

// square is the run of photo columns between the centres of two neighbouring columns of cells (or outside the outermost
// centres, where both are the same).
type square struct {
	from, to    int // photo columns [from, to)
	left, right int // columns of cells
}

// enlarge returns the mask of a width x height photo: in each pixel the largest of the bilinearly interpolated logits.
//
// The outline is as smooth as the logits are, so it needs no smoothing of its own. Between four cells that agree nothing
// is computed, because a mean of logits that all favour one label favours it too.
func (p *proposal) enlarge(width, height int) *image.Gray {
	mask := image.NewGray(image.Rect(0, 0, width, height))
	columns := newScale(width, p.Cols)
	lines := newScale(height, p.Rows)
	squares := columns.squares()
	for y := range height {
		row := mask.Pix[y*mask.Stride:][:width]
		upper, lower := lines.low[y]*p.Cols, lines.high[y]*p.Cols
		for _, s := range squares {
			label := p.label[upper+s.left]
			if label == p.label[upper+s.right] && label == p.label[lower+s.left] && label == p.label[lower+s.right] {
				if label != Background {
					fill(row[s.from:s.to], label)
				}
				continue
			}
			corners := [4]int{upper + s.left, upper + s.right, lower + s.left, lower + s.right}
			p.interpolate(row[s.from:s.to], columns.share[s.from:s.to], lines.share[y], corners)
		}
	}
	return mask
}

func fill(row []uint8, label uint8) {
	for x := range row {
		row[x] = label
	}
}

// interpolate writes the labels of one row of a square; corners are its cells: upper left, upper right, lower left, lower
// right.
func (p *proposal) interpolate(row []uint8, across []float32, down float32, corners [4]int) {
	var start, change [3]float32
	for k, logit := range p.logit {
		start[k] = logit[corners[0]] + down*(logit[corners[2]]-logit[corners[0]])
		change[k] = logit[corners[1]] + down*(logit[corners[3]]-logit[corners[1]]) - start[k]
	}
	for x, share := range across {
		row[x] = largest(start[0]+share*change[0], start[1]+share*change[1], start[2]+share*change[2])
	}
}

// scale says for each pixel of an axis between which two cells its centre lies, and where between them, 0 to 1.
type scale struct {
	low, high []int
	share     []float32
}

func newScale(pixels, cells int) scale {
	s := scale{make([]int, pixels), make([]int, pixels), make([]float32, pixels)}
	for x := range pixels {
		at := (float64(x)+0.5)*float64(cells)/float64(pixels) - 0.5
		at = min(max(at, 0), float64(cells-1))
		s.low[x] = int(at)
		s.high[x] = min(s.low[x]+1, cells-1)
		s.share[x] = float32(at - float64(s.low[x]))
	}
	return s
}

// squares groups the pixels of an axis that lie between the same two cells.
func (s scale) squares() []square {
	var found []square
	for x := range s.low {
		if n := len(found); n > 0 && found[n-1].left == s.low[x] && found[n-1].right == s.high[x] {
			found[n-1].to = x + 1
			continue
		}
		found = append(found, square{x, x + 1, s.low[x], s.high[x]})
	}
	return found
}
