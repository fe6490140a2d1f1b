package grade_test

import (
	"fmt"

	"valvegrade/pkg/grade"
	"valvegrade/pkg/measure"
)

// A grade is the place of a deposit index on the fixed scale; it is borderline when the interval crosses a limit.
func ExampleOf() {
	for _, index := range []measure.Figure{{Value: 8, Low: 5, High: 12}, {Value: 43, Low: 33, High: 52}} {
		g := grade.Of(index, grade.Probabilities{})
		fmt.Println(g.Value, g.Name, g.Borderline, "-", grade.Practice(g.Value))
	}
	fmt.Println(grade.Of(measure.Unmeasured(), grade.Probabilities{}) == nil)
	// Output:
	// 1 film false - nothing to do; look again at the next service
	// 3 crusted true - plan a cleaning
	// true
}
