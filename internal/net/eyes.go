package net

import (
	"errors"
	"fmt"
	"image"
)

// Eyes are the nets of both looks. Close them after use.
type Eyes struct {
	models [kinds]*model
}

// New loads the nets. Each of the given ONNX files replaces the embedded net of the look it was made for, which its
// shape tells; two for one look are an error. Errors wrap ErrNet.
func New(files ...[]byte) (*Eyes, error) {
	var e Eyes
	for _, file := range files {
		if _, err := e.take(file); err != nil {
			e.Close()
			return nil, err
		}
	}
	for k, present := range e.models {
		if present != nil {
			continue
		}
		if _, err := e.take(embedded[k]); err != nil {
			e.Close()
			return nil, err
		}
	}
	return &e, nil
}

// take loads a net for its look, which it returns.
func (e *Eyes) take(file []byte) (kind, error) {
	m, err := load(file)
	if err != nil {
		return 0, err
	}
	if e.models[m.kind] != nil {
		m.net.Close()
		return 0, fmt.Errorf("%w: there are two for the same look", ErrNet)
	}
	e.models[m.kind] = m
	return m.kind, nil
}

// Close frees the nets' memory. They cannot be used afterwards; closing twice does nothing.
func (e *Eyes) Close() {
	for _, m := range e.models {
		if m != nil {
			m.net.Close()
		}
	}
}

// Find is the first look: where valves are in a whole photo of at least 1x1 pixels, origin (0,0), opaque. The same
// pixels always give the same answer.
func (e *Eyes) Find(img *image.NRGBA) (*Sighting, error) {
	if err := check(img); err != nil {
		return nil, err
	}
	p := placeWhole(img.Rect.Dx(), img.Rect.Dy())
	input := letterbox(img, p)
	openShadows(input)
	maps, frame, err := e.models[finder].forward(input)
	if err != nil {
		return nil, err
	}
	return readSighting(maps, frame, p), nil
}

// Read is the second look: at the valve in the middle of a box of the photo, and at no other. It looks twice, the second
// time at what it saw the first time: the head of a long valve, the whole of any other.
func (e *Eyes) Read(img *image.NRGBA, around Box) (*Output, error) {
	if err := check(img); err != nil {
		return nil, err
	}
	first, err := e.look(img, around, false)
	if err != nil {
		return nil, err
	}
	if head, seen := first.head(); seen && around.long() {
		closer, err := e.look(img, head, false)
		if err != nil {
			return nil, err
		}
		first.takeHead(closer)
		return first, nil
	}
	if outlined, seen := first.outlined(); seen {
		around = outlined
	}
	second, err := e.look(img, around, true)
	if err != nil {
		return nil, err
	}
	second.takeMean(first)
	return second, nil
}

// look shows the reader the window round a box, as it is or upside down; the answer is upright.
func (e *Eyes) look(img *image.NRGBA, around Box, over bool) (*Output, error) {
	p, err := placeWindow(img.Rect.Dx(), img.Rect.Dy(), around)
	if err != nil {
		return nil, err
	}
	input := letterbox(img, p)
	lift(input)
	if over {
		turnOver(input, frameWidth, frameHeight)
	}
	maps, frame, err := e.models[reader].forward(input)
	if err != nil {
		return nil, err
	}
	if over {
		turnOver(maps, mapCols, mapRows)
	}
	out := readMaps(maps, p)
	out.frame, out.Frame = frame, readFrame(frame)
	return out, nil
}

func check(img *image.NRGBA) error {
	if img == nil || img.Rect.Empty() || img.Rect.Min != (image.Point{}) {
		return errors.New("net: the photo must have pixels and start at (0,0)")
	}
	return nil
}
