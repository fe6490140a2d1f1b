package net

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"valvegrade/internal/cv"
)

// ErrNet is in every error about a net that is missing, damaged or of another make.
var ErrNet = errors.New("net: cannot be used")

// kind is a look that a net was made for, told by the lengths of its outputs.
type kind int

const (
	finder kind = iota
	reader
	kinds
)

// Both nets name their outputs alike: maps over the frame, and values about what the frame shows as a whole.
var outputs = []string{"maps", "frame"}

// lengths are the numbers of values of the two outputs.
var lengths = [kinds][]int{
	finder: {finderMaps * finderCols * finderRows, finderFrame},
	reader: {readerMaps * mapCols * mapRows, readerFrame},
}

// model is a loaded net of one kind.
type model struct {
	net  *cv.Net
	kind kind
}

// load reads a net from the bytes of an ONNX file. A net of another make is found here and not in the middle of a
// batch; the error wraps ErrNet.
func load(onnx []byte) (*model, error) {
	if len(onnx) == 0 {
		return nil, fmt.Errorf("%w: the file is empty", ErrNet)
	}
	input := cv.NetShape{Channels: 3, Height: frameHeight, Width: frameWidth}
	read, err := cv.ReadNet(onnx, input, outputs)
	if err != nil {
		return nil, fmt.Errorf("%w: %w", ErrNet, err)
	}
	for k := range kinds {
		if slices.Equal(read.Lengths(), lengths[k]) {
			return &model{read, k}, nil
		}
	}
	read.Close()
	return nil, fmt.Errorf(
		"%w: it gives %v values where %v or %v are wanted",
		ErrNet,
		read.Lengths(),
		lengths[finder],
		lengths[reader],
	)
}

// forward computes the raw outputs; broken weights show as values that are not numbers.
func (m *model) forward(input []float32) (maps, frame []float32, err error) {
	answers, err := m.net.Forward(input)
	if err != nil {
		return nil, nil, fmt.Errorf("%w: %w", ErrNet, err)
	}
	maps, frame = answers[0], answers[1]
	if !finite(maps) || !finite(frame) {
		return nil, nil, fmt.Errorf("%w: it gives values that are not numbers", ErrNet)
	}
	return maps, frame, nil
}

func finite(values []float32) bool {
	for _, v := range values {
		if math.IsNaN(float64(v)) || math.IsInf(float64(v), 0) {
			return false
		}
	}
	return true
}
