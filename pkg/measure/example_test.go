package measure_test

import (
	"fmt"

	"valvegrade/pkg/measure"
)

// A valve of which a tenth carries thick crust, three tenths thin crust and two tenths a film.
func ExampleShares() {
	s := measure.Shares{Bare: 0.4, Film: 0.2, Medium: 0.3, Heavy: 0.1}
	fmt.Printf("index %.0f, coverage %.0f %%\n", s.Index(), s.Coverage())
	// Output: index 30, coverage 60 %
}
