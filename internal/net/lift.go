package net

import (
	"image"
	"math"
	"slices"

	"valvegrade/internal/number"
)

// A window too dark to show what it holds is brightened before the second look, as in training (scripts/train/lift.py):
// flange and near walls settle a photo's exposure, and what is farther in a port gets a few grey levels.
const (
	// liftedLevel is what the brightest channel of brightShare of the middle of a lifted window stays below, of 0 to 1.
	liftedLevel, brightShare = 0.6, 0.9
	// mostLift is how much a window is brightened at most: more would be noise.
	mostLift = 3.0
)

// A photo whose shadows hide what is in them is opened by a power curve before the first look, as in training.
const (
	// openMedian is what the brightest channel of half of an opened photo's pixels reaches, of 0 to 1.
	openMedian = 0.3
	// strongestCurve is the lowest exponent of the curve.
	strongestCurve = 0.45
	// curveSteps is how finely the curve is tabulated.
	curveSteps = 4096
)

// lift brightens the three planes of a net's input, values 0 to 1, unless they are bright enough.
func lift(input []float32) {
	gain := float32(min(mostLift, liftedLevel/(brightness(input)+1e-3)))
	if gain <= 1 {
		return
	}
	for i, v := range input {
		input[i] = min(1, gain*v)
	}
}

// brightness is what the brightest channel of brightShare of the middle two thirds of the frame stays below.
func brightness(input []float32) float64 {
	levels := brightest(input, image.Rect(frameWidth/6, frameHeight/6, frameWidth*5/6, frameHeight*5/6))
	slices.Sort(levels)
	return number.Quantile(levels, brightShare)
}

// brightest are the levels of the brightest channel in a part of the frame. Every other pixel will do.
func brightest(input []float32, part image.Rectangle) []float64 {
	const plane = frameWidth * frameHeight
	levels := make([]float64, 0, (part.Dx()/2+1)*(part.Dy()/2+1))
	for y := part.Min.Y; y < part.Max.Y; y += 2 {
		for i := y*frameWidth + part.Min.X; i < y*frameWidth+part.Max.X; i += 2 {
			levels = append(levels, float64(max(input[i], input[plane+i], input[2*plane+i])))
		}
	}
	return levels
}

// openShadows sends the three planes of a net's input, values 0 to 1, through the power curve that lifts their median to
// openMedian, unless it is there. The flash on a flange leaves valves deep in a port a few grey levels of a photo that is
// bright enough on the whole. Black margins do not count.
func openShadows(input []float32) {
	exponent := math.Log(openMedian) / math.Log(min(max(median(input), 1e-3), 0.98))
	if exponent >= 1 {
		return
	}
	exponent = max(exponent, strongestCurve)
	var curve [curveSteps + 1]float32
	for i := range curve {
		curve[i] = float32(math.Pow(float64(i)/curveSteps, exponent))
	}
	for i, v := range input {
		at := v * curveSteps
		step := min(int(at), curveSteps-1)
		input[i] = curve[step] + (at-float32(step))*(curve[step+1]-curve[step])
	}
}

// median of the brightest channel over the photo, the lower one of two; 1 of a black frame.
func median(input []float32) float64 {
	levels := brightest(input, image.Rect(0, 0, frameWidth, frameHeight))
	levels = slices.DeleteFunc(levels, func(level float64) bool { return level == 0 })
	if len(levels) == 0 {
		return 1
	}
	slices.Sort(levels)
	return levels[(len(levels)-1)/2]
}
