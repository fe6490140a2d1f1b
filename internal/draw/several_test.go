package draw

import (
	"image"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"

	"valvegrade/pkg/deposit"
	"valvegrade/pkg/grade"
	"valvegrade/pkg/measure"
	"valvegrade/pkg/reason"
	"valvegrade/pkg/region"
	"valvegrade/pkg/score"
)

// valves returns the results of a photo of two valves side by side, of which the right one is bare and the larger.
func valves() []*score.Result {
	whole := valve(640, 480)
	left, right := *whole, *whole
	for n, r := range []*score.Result{&left, &right} {
		r.Valve, r.Valves = n+1, 2
		mask, classes := image.NewGray(whole.Region.Mask.Rect), image.NewGray(whole.Region.Mask.Rect)
		for i := range classes.Pix {
			x, y := i%640, i/640
			classes.Pix[i] = deposit.NotValve
			from := (y-n*40)*640 + (x-n*300)*(2-n) // the left one is half as wide
			if inside := y >= n*40 && x >= n*300 && (n == 1 || x < 320); !inside || from < 0 ||
				from >= len(classes.Pix) {
				continue
			}
			if mask.Pix[i] = whole.Region.Mask.Pix[from]; mask.Pix[i] != region.Background {
				classes.Pix[i] = [2]uint8{whole.Deposit.Map.Pix[from], deposit.Bare}[n]
			}
		}
		found, measured := *whole.Region, *whole.Deposit
		found.Mask, measured.Map = mask, classes
		for _, label := range mask.Pix {
			switch label {
			case region.Head:
				found.HeadPixels++
			case region.Stem:
				found.StemPixels++
			}
		}
		r.Region, r.Deposit = &found, &measured
	}
	index := measure.Figure{Value: 0, Low: 0, High: 1.5}
	right.Grade, right.Reasons = grade.Of(
		index,
		grade.Probabilities{},
	), []reason.Reason{
		reason.Of(reason.Glare),
		reason.Of(reason.CutOff),
	}
	right.Deposit.Both = deposit.Figures{Reading: measure.Reading{Index: index, Coverage: index}}
	return []*score.Result{&left, &right}
}

func TestOverlayOfSeveralValvesLooksAsApproved(t *testing.T) {
	matches(t, filepath.Join("testdata", "several.golden.png"), Overlay(valves()...))
	partly := valves()
	partly[0].Status, partly[0].Grade, partly[0].Reasons = score.Refused, nil, []reason.Reason{
		reason.Of(reason.Blurred),
	}
	matches(t, filepath.Join("testdata", "partly.golden.png"), Overlay(partly...))
}

func TestOneOfSeveralValvesIsMarkedWithoutANumber(t *testing.T) {
	all := valves()
	alone := all[0]
	right := all[1].Region.Bounds()
	marked := Marked(alone)
	plain := base(alone)
	for y := right.Min.Y; y < right.Max.Y; y += 7 {
		for x := right.Min.X + 40; x < right.Max.X; x += 7 {
			assert.Equal(t, plain.RGBAAt(x, y), marked.RGBAAt(x, y), "the other valve is left as it is")
		}
	}
	assert.NotEqual(t, plain.Pix, marked.Pix)
}

// Where two valves meet there is a border, as thick as around them.
func TestBorderBetweenValvesIsDrawn(t *testing.T) {
	s := scene{width: 5, height: 1, labels: []uint8{1, 1, 3, 4, 4}}
	assert.Equal(t, []int{1}, s.stroke(func(a, b uint8) bool { return valveOf(a) != valveOf(b) }))
	for label, rank := range []uint8{0, 1, 1, 2, 2, 3, 3} {
		assert.Equal(t, rank, valveOf(uint8(label)))
	}
}

func TestAdviceNamesItsValves(t *testing.T) {
	glare, cut := reason.Of(reason.Glare).Advice, reason.Of(reason.CutOff).Advice
	assert.Equal(t, []string{"1 and 2: " + glare, "2: " + cut}, advices(valves()))
	assert.Equal(t, []string{glare}, advices(valves()[:1]))
}
