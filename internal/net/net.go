package net

import (
	"errors"
	"fmt"
	"image"
	"math"
	"slices"

	"valvegrade/internal/cv"
)

// The net's outputs by name and their lengths: six maps over the frame, eight values about the photo as a whole.
const (
	mapsName, frameName     = "maps", "frame"
	mapsLength, frameLength = 6 * mapCols * mapRows, 8
)

// ErrNet is in every error about a net that is missing, damaged or of another make.
var ErrNet = errors.New("net: cannot be used")

// Net is a loaded net. Close it after use.
type Net struct {
	model *cv.Net
}

// New loads a net from the bytes of an ONNX file. A net of another make is found here and not in the middle of a batch; the
// error wraps ErrNet.
func New(onnx []byte) (*Net, error) {
	if len(onnx) == 0 {
		return nil, fmt.Errorf("%w: the file is empty", ErrNet)
	}
	input := cv.NetShape{Channels: 3, Height: frameHeight, Width: frameWidth}
	model, err := cv.ReadNet(onnx, input, []string{mapsName, frameName})
	if err != nil {
		return nil, fmt.Errorf("%w: %w", ErrNet, err)
	}
	if lengths := model.Lengths(); !slices.Equal(lengths, []int{mapsLength, frameLength}) {
		model.Close()
		return nil, fmt.Errorf("%w: it gives %v values where [%d %d] are wanted", ErrNet, lengths, mapsLength, frameLength)
	}
	return &Net{model}, nil
}

// Close frees the net's memory. The net cannot be used afterwards; closing twice does nothing.
func (n *Net) Close() { n.model.Close() }

// Run looks at one photo of at least 1x1 pixels, origin (0,0), opaque. The same pixels always give the same output.
func (n *Net) Run(img *image.NRGBA) (*Output, error) {
	if img == nil || img.Rect.Empty() || img.Rect.Min != (image.Point{}) {
		return nil, errors.New("net: the photo must have pixels and start at (0,0)")
	}
	p := place(img.Rect.Dx(), img.Rect.Dy())
	maps, frame, err := n.forward(letterbox(img, p))
	if err != nil {
		return nil, err
	}
	out := readMaps(maps, p)
	out.Frame = readFrame(frame)
	return out, nil
}

// forward computes the raw outputs; broken weights show as values that are not numbers.
func (n *Net) forward(input []float32) (maps, frame []float32, err error) {
	outputs, err := n.model.Forward(input)
	if err != nil {
		return nil, nil, fmt.Errorf("%w: %w", ErrNet, err)
	}
	maps, frame = outputs[0], outputs[1]
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
