package net

import (
	"errors"
	"image"
	"math"
)

// The nets' frame in pixels, and the grid of the second look's maps in cells: one cell is 2x2 pixels of the frame.
const (
	frameWidth, frameHeight = 320, 256
	cellSize                = 2
	mapCols, mapRows        = frameWidth / cellSize, frameHeight / cellSize
)

// windowFill is the share of a window that its valve fills along the side that it fills more of, as in training
// (scripts/scenes/window.h).
const windowFill = 0.8

// smallestWindow is the least width of a window in photo pixels.
const smallestWindow = 16

// placement says where a part of a photo lies in the frame. Content is what the part becomes there: scaled, and for
// whole photos turned clockwise by 90 degrees when the photo is higher than wide.
type placement struct {
	part          image.Rectangle // of the upright photo, pixels
	turned        bool
	left, top     int // first frame pixel of the content
	width, height int // content in frame pixels, at least 1x1
}

// placeWhole fits a photo of the given size, both at least 1, into the frame: as large as it fits with its aspect kept,
// whole pixels, centred, the odd pixel of a margin on the right or below.
func placeWhole(photoWidth, photoHeight int) placement {
	p := placement{part: image.Rect(0, 0, photoWidth, photoHeight), turned: photoHeight > photoWidth}
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

// placeWindow lets the box of a valve fill windowFill of the frame, in its middle. What of the window lies beyond the
// photo is margin. It fails when nothing of the window lies within the photo.
func placeWindow(photoWidth, photoHeight int, around Box) (placement, error) {
	x, y := (around.Left+around.Right)/2, (around.Top+around.Bottom)/2
	half := math.Max(around.Right-around.Left, (around.Bottom-around.Top)*frameWidth/frameHeight) / 2 / windowFill
	half = math.Max(half, smallestWindow/2)
	high := half * frameHeight / frameWidth
	photo := image.Rect(0, 0, photoWidth, photoHeight)
	part := image.Rect(floor(x-half), floor(y-high), ceil(x+half), ceil(y+high)).Intersect(photo)
	if part.Empty() {
		return placement{}, errors.New("net: the window lies outside the photo")
	}
	scale := frameWidth / (2 * half)
	p := placement{part: part}
	p.left, p.width = span((float64(part.Min.X)-x+half)*scale, (float64(part.Max.X)-x+half)*scale, frameWidth)
	p.top, p.height = span((float64(part.Min.Y)-y+high)*scale, (float64(part.Max.Y)-y+high)*scale, frameHeight)
	return p, nil
}

func floor(v float64) int { return int(math.Floor(bounded(v))) }
func ceil(v float64) int  { return int(math.Ceil(bounded(v))) }

// bounded keeps a coordinate within what int32 holds, so that windows of any size are cut and not wrapped around.
func bounded(v float64) float64 { return min(max(v, -1<<30), 1<<30) }

// span rounds the part [from, to) of a frame axis to whole pixels, at least one.
func span(from, to float64, size int) (start, length int) {
	start = min(max(0, int(math.Round(from))), size-1)
	end := min(max(start+1, int(math.Round(to))), size)
	return start, end - start
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

// photoBox returns the photo's pixels behind a box of the frame.
func (p placement) photoBox(left, top, right, bottom float64) Box {
	left, right = left-float64(p.left), right-float64(p.left)
	top, bottom = top-float64(p.top), bottom-float64(p.top)
	if p.turned {
		left, top, right, bottom = top, float64(p.width)-right, bottom, float64(p.width)-left
	}
	width, height := p.upright()
	across, down := float64(p.part.Dx())/float64(width), float64(p.part.Dy())/float64(height)
	x, y := float64(p.part.Min.X), float64(p.part.Min.Y)
	return Box{x + left*across, y + top*down, x + right*across, y + bottom*down}
}
