package region

import (
	"image"

	"valvegrade/pkg/reason"
)

// Labels of Region.Mask, the values of the file NAME.region.png.
const (
	Background uint8 = 0
	Head       uint8 = 1
	Stem       uint8 = 2
)

// Source says where the outlines come from: the net ("auto") or marks set by hand ("marks").
type Source string

// The two sources.
const (
	Auto   Source = "auto"
	ByHand Source = "marks"
)

// Region is where one valve of a photo is.
type Region struct {
	// Mask has the size of the photo, origin (0,0) and stride = width; each pixel is Background, Head or Stem.
	Mask *image.Gray
	// HeadPixels and StemPixels count the labels in Mask.
	HeadPixels, StemPixels int
	// Ellipse is the fitted outline of the head, nil when the head is too small or too hidden to fit one.
	Ellipse *Ellipse
	// Axis is the centre line and width of the stem, nil when no stem is visible.
	Axis *Line
	// Sighted is the probability of the first look that a valve is here, 0 to 1; 1 for marks.
	Sighted float64
	// PhotoJudgeable is its probability that the photo as a whole shows a valve that can be judged, 0 to 1; 1 for marks.
	PhotoJudgeable float64
	// Confidence, 0 to 1, is the expected intersection over union of the valve mask with the truth; 1 for marks.
	Confidence float64
	Source     Source
	// OutlinedBy is who set the outlines, "" for the net and for nobody knows.
	OutlinedBy string
	// Painted, of the size of Mask, holds the classes that somebody painted (package deposit), Unpainted where nobody
	// did; nil where nothing is painted. It may be shared by the valves of a photo. PaintedBy says who, "" for nobody
	// knows.
	Painted   *image.Gray
	PaintedBy string
	// OtherValves counts further valves in view that cannot be judged.
	OtherValves int
	// Reasons are the refusals and warnings found while locating the valve; empty when there are none.
	Reasons []reason.Reason
	// Evidence is what the net said about each cell of its working grid; nil where it saw no valve.
	Evidence *Evidence
}

// Bounds returns the smallest rectangle that holds head and stem, empty when there are none.
func (r *Region) Bounds() image.Rectangle {
	c := takeCensus(r.Mask)
	return c[Head].box.Union(c[Stem].box)
}
