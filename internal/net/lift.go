package net

import (
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

// brightness is what the brightest channel of brightShare of the middle two thirds of the frame stays below. Every other
// pixel will do.
func brightness(input []float32) float64 {
	const plane = frameWidth * frameHeight
	levels := make([]float64, 0, plane/8)
	for y := frameHeight / 6; y < frameHeight*5/6; y += 2 {
		for i := y*frameWidth + frameWidth/6; i < y*frameWidth+frameWidth*5/6; i += 2 {
			levels = append(levels, float64(max(input[i], input[plane+i], input[2*plane+i])))
		}
	}
	slices.Sort(levels)
	return number.Quantile(levels, brightShare)
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

// median of the brightest channel over the photo; 1 of a black frame. Every other pixel of every other row will do.
func median(input []float32) float64 {
	const plane = frameWidth * frameHeight
	levels := make([]float32, 0, plane/4)
	for y := 0; y < frameHeight; y += 2 {
		for i := y * frameWidth; i < (y+1)*frameWidth; i += 2 {
			if level := max(input[i], input[plane+i], input[2*plane+i]); level > 0 {
				levels = append(levels, level)
			}
		}
	}
	if len(levels) == 0 {
		return 1
	}
	slices.Sort(levels)
	return float64(levels[(len(levels)-1)/2])
}
