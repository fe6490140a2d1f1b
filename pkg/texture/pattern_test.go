package texture

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

// The 3 x 3 example of the literature on local binary patterns, codes by scikit-image 0.19.3's local_binary_pattern.
func TestTheTextbookPattern(t *testing.T) {
	p := Picture{Width: 3, Height: 3, Value: []float32{6, 5, 2, 7, 6, 1, 9, 8, 7}}

	bits, ok := NewCircle(8, 1).Bits(p, 1, 1)
	assert.True(t, ok)
	assert.EqualValues(t, 120, bits)
	assert.EqualValues(t, 15, Rotated(bits, 8))
	assert.Equal(t, 4, Uniform(bits, 8))

	bits, ok = NewCircle(4, 1).Bits(p, 1, 1)
	assert.True(t, ok)
	assert.EqualValues(t, 12, bits)
	assert.Equal(t, 2, Uniform(bits, 4))
}

// Of the 256 patterns of 8 points, 58 are uniform (Ojala, Pietikainen & Maenpaa 2002), in 9 rotation-invariant classes.
func TestUniformPatternsAreAsManyAsPublished(t *testing.T) {
	uniform, codes, rotations := 0, map[int]bool{}, map[uint32]bool{}
	for bits := range uint32(256) {
		if code := Uniform(bits, 8); code <= 8 {
			uniform++
			codes[code] = true
		}
		rotations[Rotated(bits, 8)] = true
	}
	assert.Equal(t, 58, uniform)
	assert.Len(t, codes, 9)
	assert.Len(t, rotations, 36, "rotation-invariant patterns of 8 points in the same paper")
}

func TestNoPatternBeyondTheMask(t *testing.T) {
	p := Picture{Width: 4, Height: 3, Value: make([]float32, 12), Inside: []bool{
		true, true, true, true,
		true, true, true, true,
		true, true, true, false,
	}}
	circle := NewCircle(8, 1)
	_, ok := circle.Bits(p, 1, 1)
	assert.True(t, ok)
	_, ok = circle.Bits(p, 2, 1)
	assert.False(t, ok, "touches the masked corner")
	_, ok = circle.Bits(p, 0, 1)
	assert.False(t, ok, "reaches over the border")
}

func TestPatternEntropy(t *testing.T) {
	circle := NewCircle(8, 1)
	flat := Picture{Width: 5, Height: 5, Value: make([]float32, 25)}
	assert.Zero(t, circle.PatternEntropy(flat, 1), "one code only")
	tiny := Picture{Width: 2, Height: 2, Value: make([]float32, 4)}
	assert.True(t, math.IsNaN(circle.PatternEntropy(tiny, 1)))

	// Alone pixels brighter than all around have code 0, their neighbours others: two centres of code 0 and 8 are 1
	// bit.
	p := Picture{Width: 6, Height: 3, Value: []float32{
		1, 1, 1, 3, 3, 3,
		1, 2, 1, 3, 2, 3,
		1, 1, 1, 3, 3, 3,
	}, Inside: []bool{
		true, true, true, true, true, true,
		true, true, true, true, true, true,
		true, true, true, true, true, true,
	}}
	codes := map[int]bool{}
	for _, x := range []int{1, 4} {
		bits, ok := circle.Bits(p, x, 1)
		assert.True(t, ok)
		codes[Uniform(bits, 8)] = true
	}
	assert.Equal(t, map[int]bool{0: true, 8: true}, codes)
	assert.InDelta(t, 1, circle.PatternEntropy(every(p, 1, 4), 1), 1e-12)
}

// every masks p so that only columns around the given centres count.
func every(p Picture, centres ...int) Picture {
	split := Picture{Width: p.Width + 1, Height: p.Height}
	for y := range p.Height {
		row := p.Value[y*p.Width : (y+1)*p.Width]
		split.Value = append(append(append(split.Value, row[:3]...), 0), row[3:]...)
		split.Inside = append(split.Inside, true, true, true, false, true, true, true)
	}
	return split
}
