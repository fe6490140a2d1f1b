package net

import (
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
