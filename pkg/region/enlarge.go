package region

import (
	"image"

	"valvegrade/internal/raster"
)

// enlarge returns the mask of a photo of the given bounds, which begin at (0,0): in each pixel of the window the
// largest of the bilinearly interpolated logits, background beyond it.
//
// The outline is as smooth as the logits are, so it needs no smoothing of its own. Between four cells that agree
// nothing is computed, because a mean of logits that all favour one label favours it too.
func (p *proposal) enlarge(photo image.Rectangle) *image.Gray {
	mask := image.NewGray(photo)
	window := p.Window().Intersect(photo)
	columns := raster.Places(0, window.Dx(), p.CellWidth, p.Cols)
	ends := raster.Ends(columns)
	for y, line := range raster.Places(0, window.Dy(), p.CellHeight, p.Rows) {
		row := mask.Pix[(window.Min.Y+y)*mask.Stride+window.Min.X:][:window.Dx()]
		upper, lower := line.First*p.Cols, line.Second*p.Cols
		from := 0
		for _, to := range ends {
			left, right := columns[from].First, columns[from].Second
			label := p.label[upper+left]
			if label == p.label[upper+right] && label == p.label[lower+left] && label == p.label[lower+right] {
				if label != Background {
					fill(row[from:to], label)
				}
			} else {
				corners := [4]int{upper + left, upper + right, lower + left, lower + right}
				p.interpolate(row[from:to], columns[from:to], line.Share, corners)
			}
			from = to
		}
	}
	return mask
}

func fill(row []uint8, label uint8) {
	for x := range row {
		row[x] = label
	}
}

// interpolate writes the labels of one row of a square; corners are its cells: upper left, upper right, lower left,
// lower right.
func (p *proposal) interpolate(row []uint8, across []raster.Between, down float32, corners [4]int) {
	var start, change [3]float32
	for k, logit := range p.logit {
		start[k] = logit[corners[0]] + down*(logit[corners[2]]-logit[corners[0]])
		change[k] = logit[corners[1]] + down*(logit[corners[3]]-logit[corners[1]]) - start[k]
	}
	for x := range across {
		share := across[x].Share
		row[x] = largest(start[0]+share*change[0], start[1]+share*change[1], start[2]+share*change[2])
	}
}
