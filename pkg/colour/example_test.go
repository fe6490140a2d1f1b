package colour_test

import (
	"fmt"

	"valvegrade/pkg/colour"
)

// How far two pixels look apart: bare steel and a brown film.
func ExampleCIEDE2000() {
	steel, film := colour.LabOf(168, 170, 173), colour.LabOf(194, 178, 128)
	fmt.Printf("L* %.0f and %.0f, difference %.0f\n", steel.L, film.L, colour.CIEDE2000(steel, film))
	// Output: L* 70 and 73, difference 20
}

// Half the light is not half the code.
func ExampleEncode() {
	fmt.Printf("%.0f\n", 255*colour.Encode(colour.Linear(200)/2))
	// Output: 146
}
