package deposit

import (
	"math"

	"valvegrade/pkg/measure"
)

// formula reads coverage and index without the net's evidence, from what needs no training to be understood:
//
//   - crust is rough whichever way one looks along it, because its grains shade and shadow each other. Turned and ground metal is rough
//     across its marks and smooth along them, as is the edge of a highlight: so relief counts in its weakest direction;
//   - metal mirrors the lamp: its brightest places stand out from the rest, over an area and not as glints. Crust is dull;
//   - a film has no relief, but tints towards yellow and brown.
//
// Each is one figure of the whole valve (traits); two lines weigh them.
//
// It stays a rough guess, with an interval as wide as that makes it. Dull blasted metal, wet crust and blur mislead it,
// heat tint looks like film, and a small patch is lost in the mean. Darkness is left out: nitrided metal, weak light
// and thick crust are equally dark.
func (v *view) formula(r relief) measure.Reading {
	t, ok := v.traits(r)
	if !ok {
		return measure.NoReading()
	}
	return measure.Reading{Index: indexLine.read(t), Dark: measure.Unmeasured(), Coverage: coverageLine.read(t)}
}

// line weighs the traits: its reading is the logistic function of their sum, times 100, with an interval of so many
// points below and above.
type line struct {
	relief, sheen, size, tint, constant float64
	below, above                        float64
}

// The weights were set by least squares with a light ridge on 89 rendered photos: of 240 made by
// scripts/train/held_back.py the even ones that can be judged and show the valve found. The odd ones are for measuring:
// TestTheFormulaOnTheDemoPhotos prints what is reached elsewhere. More traits did not help: finer and coarser relief,
// its skew and spread, noise, contrast of colours, the symmetry of a turned part.
//
// The intervals reach half-way from the second worst to the worst of the 89, on either side, each with itself left out
// of the fit: narrower ones held less than 90 % of the odd photos.
var (
	indexLine    = line{relief: 1.91, sheen: -2.11, size: 1.16, constant: 10.69, below: 44, above: 50.5}
	coverageLine = line{relief: 1.28, sheen: -1.82, size: 1.07, tint: 0.065, constant: 7.80, below: 71, above: 95}
)

func (l *line) read(t traits) measure.Figure {
	logit := l.relief*t.relief + l.sheen*t.sheen + l.size*t.size + l.tint*t.tint + l.constant
	value := 100 / (1 + math.Exp(-logit))
	return measure.Figure{Value: value, Low: max(0, value-l.below), High: min(100, value+l.above)}
}

// contradicts reports whether each of two readings of an index lies outside the other's interval; one that is not
// measured contradicts nothing.
func contradicts(a, b measure.Figure) bool {
	outside := func(value float64, i measure.Figure) bool { return value < i.Low || value > i.High }
	return outside(a.Value, b) && outside(b.Value, a)
}
