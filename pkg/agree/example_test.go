package agree_test

import (
	"fmt"
	"log"

	"valvegrade/pkg/agree"
)

// Two raters, six photos, grades 0 to 4.
func ExampleWeightedKappa() {
	table, err := agree.Tabulate(agree.Grades, []int{0, 1, 2, 3, 4, 2}, []int{0, 1, 3, 3, 4, 1})
	if err != nil {
		log.Fatal(err)
	}
	k, err := agree.WeightedKappa(table, agree.Quadratic(agree.Grades))
	if err != nil {
		log.Fatal(err)
	}
	same := table.Within(0)
	fmt.Printf("same grade %d of %d (%.0f to %.0f %%), weighted kappa %.2f\n",
		same.Count, same.Of, 100*same.Low, 100*same.High, k.Value)
	// Output: same grade 4 of 6 (30 to 90 %), weighted kappa 0.91
}

// Weights of one's own: taking a 0 for a 2 is three times as bad as taking a 0 for a 1.
func ExampleFromDisagreement() {
	w, err := agree.FromDisagreement([][]float64{{0, 1, 3}, {1, 0, 1}, {3, 1, 0}})
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("%.2f\n", w[0])
	// Output: [1.00 0.67 0.00]
}
