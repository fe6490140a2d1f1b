package main

import (
	"image"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"valvegrade/pkg/measure"
	"valvegrade/pkg/reason"
	"valvegrade/pkg/score"
	"valvegrade/scripts/outline/drawn"
)

// placed is a result of a valve of a photo with two, counted from the left.
func placed(place, pixels, grade int, index, dark float64) score.Record {
	r := result(pixels, grade, index)
	r.ValveInPhoto, r.ValvesInPhoto = place, 2
	r.WrittenDark = measure.WriteDark(measure.Exactly(dark))
	return r
}

func TestValvesOfAViewAreHeldAgainstThoseOfThePhoto(t *testing.T) {
	photo := drawn.Mask( // the right one is the larger
		"00330001120",
		"00330001120",
		"00000001100")
	records := []score.Record{placed(1, 4, 1, 10, 0), placed(2, 8, 3, 50, 80)}
	var v views
	v.valves = valvesOf("a.jpg", records, photo)
	right, left := v.valves[0], v.valves[1]
	assert.Equal(t, []int{2, 8, 1, 4}, []int{right.place, right.pixels, left.place, left.pixels})

	// The whole photo again: the left one is the larger now, the right one half as large and still found, and at the
	// right border is something that was no valve.
	got := drawn.Mask(
		"01110003305",
		"01110003305",
		"00000000005")
	again := []score.Record{placed(1, 6, 2, 20, 30), placed(2, 4, 4, 90, 95), placed(3, 3, 0, 0, 0)}
	require.NoError(t, v.hold(plain(photo.Rect, 0), photo, v.valves, again, got))
	assert.Equal(t, []float64{90, 95, 1}, []float64{right.index[0], right.dark[0], float64(right.grades[4])})
	assert.Equal(t, []float64{20, 30, 1}, []float64{left.index[0], left.dark[0], float64(left.grades[2])})
	assert.Equal(t, 1, v.elsewhere)

	// A part of it that has the left one whole and half of the right one, and is refused.
	dark := []score.Record{{Status: score.Refused, Reasons: []reason.Reason{{Code: reason.TooDark}}}}
	require.NoError(t, v.hold(plain(image.Rect(1, 0, 9, 3), 0), photo, v.valves, dark, nil))
	assert.Equal(t, []int{1, 1, 2, 1}, []int{right.looked, right.found, left.looked, left.found})
	assert.Equal(t, []string{"too-dark"}, left.missed)
	assert.Equal(t, []int{2, 1}, []int{v.made, v.elsewhere})
}

func TestFiguresOfViews(t *testing.T) {
	one := func(looked int, index, dark []float64) *viewed {
		return &viewed{looked: looked, found: len(index), index: index, dark: dark}
	}
	figures, err := views{photos: 4, made: 80, elsewhere: 3, valves: []*viewed{
		one(4, []float64{10, 20, 30, 40}, []float64{0, 0, 0, 0}), // variances 500/3 and 0
		one(2, []float64{30, 40}, []float64{60, 80}),             // 50 and 200
		one(3, []float64{90}, []float64{90}),                     // none
		one(1, nil, nil),
	}}.figures()
	require.NoError(t, err)
	got := keyed(figures)
	for key, want := range map[string]float64{
		"photos": 4, "valves": 4, "views": 80, "whole": 10, "found": 7, "found_percent": 70,
		"index_sd": math.Sqrt((500./3 + 50) / 2), "dark_sd": 10, "elsewhere": 3,
	} {
		require.NotNil(t, got[key], key)
		assert.InDelta(t, want, *got[key], 1e-4, key)
	}
	none, err := views{photos: 1}.figures()
	require.NoError(t, err)
	for _, key := range []string{"found_percent", "index_sd", "dark_sd"} {
		assert.Nil(t, keyed(none)[key], key)
	}
}
