package draw

import (
	"image"
	"math"

	"valvegrade/pkg/deposit"
	"valvegrade/pkg/grade"
	"valvegrade/pkg/measure"
	"valvegrade/pkg/photo"
	"valvegrade/pkg/reason"
	"valvegrade/pkg/region"
	"valvegrade/pkg/score"
)

// metal is the grey of every pixel of the fixtures' photo.
const metal = 150

// valve returns a scored result: a round head with a stem above it on even grey, with the deposit classes in four
// vertical bands and an unreadable spot.
func valve(width, height int) *score.Result {
	box := image.Rect(0, 0, width, height)
	pixels, mask, classes := image.NewNRGBA(box), image.NewGray(box), image.NewGray(box)
	radius := float64(height) / 3
	for i := range mask.Pix {
		x, y := float64(i%width), float64(i/width)
		copy(pixels.Pix[4*i:], []uint8{metal, metal, metal, 255})
		fromCentre := math.Hypot(x-float64(width)/2, y-float64(height)*0.6)
		switch {
		case fromCentre < radius:
			mask.Pix[i] = region.Head
		case math.Abs(x-float64(width)/2) < radius/4 && y < float64(height)*0.6:
			mask.Pix[i] = region.Stem
		}
		classes.Pix[i] = deposit.NotValve
		if mask.Pix[i] != region.Background {
			classes.Pix[i] = uint8(4 * (x - float64(width)/2 + radius) / (2*radius + 1))
		}
		if fromCentre < radius/5 {
			classes.Pix[i] = deposit.Unreadable
		}
	}
	index := measure.Figure{Value: 38, Low: 33, High: 43}
	coverage := measure.Figure{Value: 71, Low: 66, High: 77}
	figures := deposit.Figures{Reading: measure.Reading{Index: index, Coverage: coverage}}
	return &score.Result{
		Name: "engine/cylinder 2/port left.jpg", Version: "1.0.0+net.0123456789ab", Width: width, Height: height,
		Status: score.Scored, Grade: grade.Of(index, grade.Probabilities{}), Reasons: []reason.Reason{reason.Of(reason.Glare)},
		Region: &region.Region{Mask: mask}, Deposit: &deposit.Deposit{Map: classes, Both: figures},
		Photo: &photo.Photo{Pixels: pixels, Width: width, Height: height},
	}
}
