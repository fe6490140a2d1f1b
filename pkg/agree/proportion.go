package agree

import "valvegrade/pkg/measure"

// Proportion is Count out of Of as a share with its 95 % interval, all within 0 to 1. The share is not measured when Of
// is 0.
type Proportion struct {
	Count, Of int
	measure.Figure
}

// Wilson returns the share count/of with the interval of measure.Wilson.
func Wilson(count, of int) Proportion { return Proportion{count, of, measure.Wilson(count, of)} }
