package cv

/*
#include <stdlib.h>
#include "net.h"
*/
import "C"

import (
	"errors"
	"fmt"
	"slices"
	"sync"
	"unsafe"
)

// ErrClosed is returned by a Net that was closed.
var ErrClosed = errors.New("cv: net is closed")

// NetShape is the input of a net: planes of Height rows and Width columns, one after the other.
type NetShape struct{ Channels, Height, Width int }

// Len returns the number of values of an input.
func (s NetShape) Len() int { return s.Channels * s.Height * s.Width }

// Net is a neural net with one input of fixed shape and several named outputs.
//
// OpenCV keeps the intermediate results of a run inside the net, so calls take turns; workers need a Net each to run in
// parallel. Close it when done: it holds memory that Go does not see.
type Net struct {
	turn    sync.Mutex
	handle  *C.Network
	input   NetShape
	lengths []int
}

// ReadNet builds a net from the bytes of an ONNX file.
//
// It fails when the bytes are no ONNX net that OpenCV can run, when its layers cannot take the given shape, or when it
// lacks one of the outputs. The height and width that the file declares are not binding for OpenCV: a net of
// convolutions takes other sizes too and answers with other Lengths, so compare those. Bytes made to harm are beyond
// what can be caught here: read only files from a trusted hand.
func ReadNet(onnx []byte, input NetShape, outputs []string) (*Net, error) {
	if len(onnx) == 0 {
		return nil, errors.New("cv: read net: no bytes")
	}
	if err := checkSize(input.Width, input.Height); err != nil || input.Channels < 1 || input.Channels > 1024 {
		return nil, fmt.Errorf("cv: read net: input shape %+v out of range", input)
	}
	if len(outputs) == 0 {
		return nil, errors.New("cv: read net: no outputs asked for")
	}
	n := &Net{input: input}
	answer := C.net_read(unsafe.Pointer(&onnx[0]), C.size_t(len(onnx)),
		C.int(input.Channels), C.int(input.Height), C.int(input.Width), &n.handle)
	if err := failure("read net", unsafe.Pointer(answer)); err != nil {
		return nil, err
	}
	for _, name := range outputs {
		if err := n.addOutput(name); err != nil {
			n.Close()
			return nil, err
		}
	}
	return n, nil
}

func (n *Net) addOutput(name string) error {
	text := C.CString(name)
	defer C.free(unsafe.Pointer(text))
	var length C.size_t
	if err := failure("read net", unsafe.Pointer(C.net_add_output(n.handle, text, &length))); err != nil {
		return err
	}
	n.lengths = append(n.lengths, int(length))
	return nil
}

// Lengths returns how many values each output has, in the order in which the outputs were asked for.
func (n *Net) Lengths() []int { return slices.Clone(n.lengths) }

// Forward runs the net on one input, plane by plane and row by row, and returns one fresh slice per output.
//
// It fails when the input has not exactly Len values, with ErrClosed after Close, and when OpenCV refuses.
func (n *Net) Forward(input []float32) ([][]float32, error) {
	if len(input) != n.input.Len() {
		return nil, fmt.Errorf("cv: run net: input has %d values, the net takes %d", len(input), n.input.Len())
	}
	n.turn.Lock()
	defer n.turn.Unlock()
	if n.handle == nil {
		return nil, ErrClosed
	}
	in, err := floatMat(input, n.input.Channels*n.input.Height, n.input.Width)
	if err != nil {
		return nil, err
	}
	defer in.Close()
	if err := failure("run net", unsafe.Pointer(C.net_forward(n.handle, pointer(&in)))); err != nil {
		return nil, err
	}
	outputs := make([][]float32, len(n.lengths))
	for i, length := range n.lengths {
		outputs[i] = make([]float32, length)
		copied := C.net_output(n.handle, C.size_t(i), (*C.float)(unsafe.SliceData(outputs[i])), C.size_t(length))
		if err := failure("run net", unsafe.Pointer(copied)); err != nil {
			return nil, err
		}
	}
	return outputs, nil
}

// Close releases the net; a second call does nothing.
func (n *Net) Close() {
	n.turn.Lock()
	defer n.turn.Unlock()
	if n.handle != nil {
		C.net_close(n.handle)
		n.handle = nil
	}
}
