package net

import "math"

// The net's frame in pixels, and the grid of its maps in cells: one cell is 2x2 pixels of the frame.
const (
	frameWidth, frameHeight = 320, 256
	cellSize                = 2
	mapCols, mapRows        = frameWidth / cellSize, frameHeight / cellSize
)

// placement says where a photo lies in the frame. Content is what the photo becomes there: scaled, and turned clockwise by
// 90 degrees when the photo is higher than wide.
type placement struct {
	photoWidth, photoHeight int // upright photo, pixels
	turned                  bool
	left, top               int // first frame pixel of the content
	width, height           int // content in frame pixels, at least 1x1
}

// place fits a photo of the given size, both at least 1, into the frame: as large as it fits with its aspect kept, whole
// pixels, centred, the odd pixel of a margin on the right or below.
func place(photoWidth, photoHeight int) placement {
	p := placement{photoWidth: photoWidth, photoHeight: photoHeight, turned: photoHeight > photoWidth}
	w, h := float64(photoWidth), float64(photoHeight)
	if p.turned {
		w, h = h, w
	}
	scale := math.Min(frameWidth/w, frameHeight/h)
	p.width = max(1, int(math.RoundToEven(w*scale)))
	p.height = max(1, int(math.RoundToEven(h*scale)))
	p.left, p.top = (frameWidth-p.width)/2, (frameHeight-p.height)/2
	return p
}

// upright returns the size of the content before it is turned.
func (p placement) upright() (width, height int) {
	if p.turned {
		return p.height, p.width
	}
	return p.width, p.height
}

// framePixel returns the frame pixel of pixel (x, y) of the upright content.
func (p placement) framePixel(x, y int) (fx, fy int) {
	if p.turned {
		x, y = p.width-1-y, x
	}
	return p.left + x, p.top + y
}
