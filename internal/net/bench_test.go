package net

import (
	"fmt"
	"image/color"
	"testing"

	"github.com/stretchr/testify/require"

	_ "valvegrade/internal/memory" // as the program has it
)

func BenchmarkLetterbox(b *testing.B) {
	for _, size := range [][2]int{{640, 480}, {1920, 1080}, {4032, 3024}} {
		b.Run(fmt.Sprintf("%dx%d", size[0], size[1]), func(b *testing.B) {
			img := canvas(size[0], size[1], color.White)
			for b.Loop() {
				letterbox(img, placeWhole(size[0], size[1]))
			}
		})
	}
}

func BenchmarkLift(b *testing.B) {
	input := ramp(0.6)
	for b.Loop() {
		lift(input)
	}
}

func BenchmarkLoad(b *testing.B) {
	for b.Loop() {
		n, err := New()
		require.NoError(b, err)
		n.Close()
	}
}

func BenchmarkForward(b *testing.B) {
	n, err := New()
	require.NoError(b, err)
	defer n.Close()
	input := letterbox(canvas(640, 480, color.White), placeWhole(640, 480))
	for k, name := range []string{"finder", "reader"} {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				_, _, err := n.models[k].forward(input)
				require.NoError(b, err)
			}
		})
	}
}

func BenchmarkCrop(b *testing.B) {
	raw := make([]float32, readerMaps*mapCols*mapRows)
	for b.Loop() {
		readMaps(raw, placeWhole(640, 480))
	}
}
