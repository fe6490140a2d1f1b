package texture_test

import (
	"fmt"

	"valvegrade/pkg/texture"
)

// How often levels meet level 0 to the right or left: the picture of Haralick, Shanmugam & Dinstein 1973, figure 3.
func ExampleLevels_Matrix() {
	picture := texture.Levels{Width: 4, Height: 4, Count: 4, Pix: []uint8{
		0, 0, 1, 1,
		0, 0, 1, 1,
		0, 2, 2, 2,
		2, 2, 3, 3,
	}}
	fmt.Println(picture.Matrix(texture.Degrees0)[:4])
	// Output: [4 2 1 0]
}

// The local binary pattern of a corner, in whatever direction it points.
func ExampleRotated() {
	for _, bits := range []uint32{0b00000111, 0b00011100, 0b11000001} {
		fmt.Printf("%08b %08b\n", bits, texture.Rotated(bits, 8))
	}
	// Output:
	// 00000111 00000111
	// 00011100 00000111
	// 11000001 00000111
}
