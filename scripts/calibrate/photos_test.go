package main

import (
	"image"
	"testing"

	"github.com/stretchr/testify/assert"

	"valvegrade/internal/truth"
	"valvegrade/pkg/deposit"
	"valvegrade/pkg/measure"
	"valvegrade/pkg/region"
	"valvegrade/pkg/score"
)

// row is a mask of one row.
func row(codes string) *image.Gray {
	m := image.NewGray(image.Rect(0, 0, len(codes), 1))
	for x, code := range codes {
		m.Pix[x] = uint8(code - '0')
	}
	return m
}

func measured(outline string, index float64) *score.Result {
	r := &score.Result{Status: score.Scored, Region: &region.Region{Mask: row(outline)}, Deposit: &deposit.Deposit{Map: row(outline)}}
	r.Deposit.Both.Index = measure.Figure{Value: index}
	return r
}

// The largest outline of a photo may be that of another valve than the one whose truth is known.
func TestAValveGetsTheResultThatOverlapsIt(t *testing.T) {
	want := row("1100003330")
	small, large := measured("1000000000", 12), measured("0000011110", 60)
	of := func(place int, results ...*score.Result) sample {
		s := sample{Entry: truth.Entry{Valve: place}}
		s.match(results, want)
		return s
	}
	first := of(1, large, small)
	assert.Same(t, small.Region, first.region)
	assert.Same(t, small.Deposit.Map, first.classes)
	assert.Equal(t, 12.0, first.index)
	assert.InDelta(t, 1./2, first.overlap, 1e-12)
	second := of(2, large, small)
	assert.Same(t, large.Region, second.region)
	assert.InDelta(t, 3./4, second.overlap, 1e-12)
	assert.Nil(t, of(1, large).region, "no outline touches it")
	assert.Nil(t, of(1, &score.Result{Status: score.Refused}).region)
}
