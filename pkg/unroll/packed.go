package unroll

import (
	"bytes"
	"compress/flate"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"

	"valvegrade/pkg/deposit"
	"valvegrade/pkg/region"
)

// ErrPacked is wrapped by every error about a packed map that holds none.
var ErrPacked = errors.New("not a valve map")

// Packed is a Map in so few bytes that every saved result can carry it; written, it is JSON. Maps are compared as they
// are unpacked, so that saved results and photos come to the same.
type Packed struct {
	// Rim is the outline of the head, centre, semi-axes and angle of a region.Ellipse, nil where there is none. Stem is
	// the line of the stem, its ends and width as in region.Line, nil where it is out of view. Both are in pixels of
	// the photo as it was measured.
	Rim   *[5]float64 `json:"rim"`
	Stem  *[5]float64 `json:"stem"`
	Rough bool        `json:"rough"`
	// Classes holds Map.Class, a byte a cell, deflated (RFC 1951); nil without a rim, as Tones.
	Classes []byte `json:"classes,omitempty"`
	// Tones holds Map.Tone, likewise: four cells a byte, in steps of 1/toneSteps around tonePoint.
	Tones []byte `json:"tones,omitempty"`
	// Draws holds index, dark deposit, coverage in steps of half a percent, and the weights of Map.Draws in 255ths of
	// the largest, likewise.
	Draws []byte `json:"draws"`
}

const (
	toneSteps, tonePoint = 48, 128
	halfPercents         = 2
)

// Pack returns the map of a rolled out valve without its weights and what else follows from the geometry.
func (m *Map) Pack() *Packed {
	p := &Packed{Rough: m.Rough, Draws: deflated(packDraws(m.Draws))}
	if e := m.rim; e != nil {
		p.Rim = &[5]float64{e.X, e.Y, e.A, e.B, e.Angle}
	}
	if l := m.stem; l != nil {
		p.Stem = &[5]float64{l.X1, l.Y1, l.X2, l.Y2, l.Width}
	}
	if m.Class == nil {
		return p
	}
	tones := make([]byte, 0, len(m.Tone)/4)
	for row := 0; row < HeadRows; row += 2 {
		for column := 0; column < Columns; column += 2 {
			at := row*Columns + column
			mean := (m.Tone[at] + m.Tone[at+1] + m.Tone[at+Columns] + m.Tone[at+Columns+1]) / 4
			tones = append(tones, uint8(max(0, min(255, tonePoint+math.Round(toneSteps*float64(mean))))))
		}
	}
	p.Classes, p.Tones = deflated(m.Class), deflated(tones)
	return p
}

// Outlines returns the outline of the head and the line of the stem, in pixels of the photo as it was measured; nil for
// what is not known.
func (p *Packed) Outlines() (rim *region.Ellipse, stem *region.Line) {
	if e := p.Rim; e != nil {
		rim = &region.Ellipse{X: e[0], Y: e[1], A: e[2], B: e[3], Angle: e[4]}
	}
	if l := p.Stem; l != nil {
		stem = &region.Line{X1: l[0], Y1: l[1], X2: l[2], Y2: l[3], Width: l[4]}
	}
	return rim, stem
}

// Map unpacks the map. Errors wrap ErrPacked.
func (p *Packed) Map() (*Map, error) {
	m := &Map{Rough: p.Rough, Oriented: p.Stem != nil, Proportion: math.NaN(), Foot: math.NaN()}
	m.rim, m.stem = p.Outlines()
	drawn, err := inflated(p.Draws, 4*mostDraws, 0)
	if err != nil {
		return nil, err
	}
	m.Draws = unpackDraws(drawn)
	if m.rim == nil {
		return m, nil
	}
	if m.Class, err = inflated(p.Classes, Rows*Columns, Rows*Columns); err != nil {
		return nil, err
	}
	tones, err := inflated(p.Tones, HeadRows*Columns/4, HeadRows*Columns/4)
	if err != nil {
		return nil, err
	}
	m.Tone = make([]float32, HeadRows*Columns)
	for cell := range m.Tone {
		if m.Readable(cell) {
			at := cell/Columns/2*(Columns/2) + cell%Columns/2
			m.Tone[cell] = (float32(tones[at]) - tonePoint) / toneSteps
		}
	}
	m.measure()
	for _, weight := range m.Weight {
		if math.IsNaN(weight) || math.IsInf(weight, 0) {
			return nil, fmt.Errorf("%w: no geometry", ErrPacked)
		}
	}
	return m, nil
}

// mostDraws bounds what is read; deposit.DefaultCalibration asks for fewer.
const mostDraws = 4096

func packDraws(d deposit.Draws) []byte {
	var packed []byte
	for _, figure := range [][]float64{d.Index, d.Dark, d.Coverage} {
		for _, percent := range figure {
			packed = append(packed, uint8(math.Round(halfPercents*min(100, max(0, percent)))))
		}
	}
	most := 0.0
	for _, w := range d.Weight {
		most = max(most, w)
	}
	for _, w := range d.Weight {
		// 255*most/most may be the next number above 255, which would leave nothing of the draws that count most.
		share := min(1, w/max(most, math.SmallestNonzeroFloat64))
		packed = append(packed, uint8(math.Ceil(255*share)))
	}
	return packed
}

func unpackDraws(packed []byte) deposit.Draws {
	n := len(packed) / 4
	values := make([]float64, 4*n)
	for i := range values {
		values[i] = float64(packed[i])
		if i < 3*n {
			values[i] /= halfPercents
		}
	}
	weight := values[3*n:]
	restore(weight)
	return deposit.Draws{Index: values[:n], Dark: values[n : 2*n], Coverage: values[2*n : 3*n], Weight: weight}
}

// restore gives the draws that count most their weight back where it was written as 0, as versions up to 2026-11-29 did
// with 255 that rounding had raised: none of their other weights is 255 then.
func restore(weight []float64) {
	if len(weight) == 0 || slices.Max(weight) == 255 {
		return
	}
	for i, w := range weight {
		if w == 0 {
			weight[i] = 255
		}
	}
}

func deflated(text []byte) []byte {
	var packed bytes.Buffer
	w, err := flate.NewWriter(&packed, flate.DefaultCompression)
	if err == nil {
		_, err = w.Write(text)
		err = errors.Join(err, w.Close())
	}
	if err != nil {
		panic(err) // neither the level nor a buffer fails
	}
	return packed.Bytes()
}

// inflated unpacks at most so many bytes; want, unless 0, is how many there must be.
func inflated(packed []byte, most, want int) ([]byte, error) {
	text, err := io.ReadAll(io.LimitReader(flate.NewReader(bytes.NewReader(packed)), int64(most)+1))
	switch {
	case err != nil:
		return nil, fmt.Errorf("%w: %w", ErrPacked, err)
	case len(text) > most, want > 0 && len(text) != want:
		return nil, fmt.Errorf("%w: of another size", ErrPacked)
	}
	return text, nil
}
