package net

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// ramp is an input whose rows grow evenly from 0 to this value.
func ramp(highest float32) []float32 {
	input := make([]float32, 3*frameWidth*frameHeight)
	for i := range input {
		input[i] = highest * float32(i%frameWidth) / (frameWidth - 1)
	}
	return input
}

func TestLift(t *testing.T) {
	for highest, gain := range map[float32]float64{0.1: 3, 0.3: 2.5928, 0.5: 1.5584, 0.9: 1} {
		input := ramp(highest)
		lift(input)
		// From scripts/train/lift.py of the same ramps.
		assert.InDelta(t, gain*float64(highest), input[frameWidth-1], 1e-3, "ramp to %v", highest)
		assert.Zero(t, input[0], "black stays black")
	}
	bright := ramp(1)
	lift(bright)
	assert.Equal(t, ramp(1), bright)
}

func TestLiftMeasuresTheMiddle(t *testing.T) {
	input := make([]float32, 3*frameWidth*frameHeight)
	for i := range input {
		if i%frameWidth < 40 { // a bright edge
			input[i] = 1
		} else {
			input[i] = 0.2
		}
	}
	lift(input)
	assert.InDelta(t, 0.2*0.6/0.201, input[frameWidth/2], 1e-5)
	assert.EqualValues(t, 1, input[0], "no brighter than white")
}

func TestOpenShadows(t *testing.T) {
	for highest, want := range map[float32]float32{0.1: 0.35481, 0.3: 0.46517, 0.5: 0.54698, 0.9: 0.9} {
		input := ramp(highest)
		openShadows(input)
		// From scripts/train/lift.py of the same ramps.
		assert.InDelta(t, want, input[frameWidth-1], 1e-3, "ramp to %v", highest)
		assert.Zero(t, input[0], "black stays black")
	}
}

func TestOpenShadowsLeavesMarginsOut(t *testing.T) {
	input := make([]float32, 3*frameWidth*frameHeight)
	openShadows(input)
	assert.Equal(t, make([]float32, len(input)), input, "a black photo stays black")
	for i := range input {
		if i%frameWidth < 40 { // a narrow photo of one grey
			input[i] = 0.2
		}
	}
	openShadows(input)
	assert.InDelta(t, openMedian, input[0], 1e-4)
	assert.Zero(t, input[frameWidth-1])
}
