package main

import (
	"fmt"

	"valvegrade/pkg/deposit"
)

// constant is one of a calibration's, with the values that are tried.
type constant struct {
	name   string
	of     func(*deposit.Calibration) *float64
	values []float64
}

var constants = []constant{
	{"Direct", func(c *deposit.Calibration) *float64 { return &c.Direct }, steps(0, 0.2, 2)},
	{"DirectDark", func(c *deposit.Calibration) *float64 { return &c.DirectDark }, steps(0, 0.2, 2)},
	{"DirectCoverage", func(c *deposit.Calibration) *float64 { return &c.DirectCoverage }, steps(0, 0.3, 3)},
	{"Trust", func(c *deposit.Calibration) *float64 { return &c.Trust }, steps(0, 0.1, 1)},
	{"Temper", func(c *deposit.Calibration) *float64 { return &c.Temper }, steps(0.8, 0.1, 2)},
	{"Common", func(c *deposit.Calibration) *float64 { return &c.Common }, steps(0, 0.2, 2)},
	{"Own", func(c *deposit.Calibration) *float64 { return &c.Own }, steps(0, 0.15, 0.9)},
	{"Outline", func(c *deposit.Calibration) *float64 { return &c.Outline }, steps(0, 0.35, 1.4)},
}

func steps(from, by, to float64) (values []float64) {
	for i := 0; from+float64(i)*by <= to+1e-9; i++ {
		values = append(values, from+float64(i)*by)
	}
	return values
}

// search betters one constant after the other on every second photo, until none gets better, and shows what the best is
// worth on the others. It starts from the constants as they are.
func search(photos []sample) {
	var even, odd []sample
	for i, s := range photos {
		if i%2 == 0 {
			even = append(even, s)
		} else {
			odd = append(odd, s)
		}
	}
	best := deposit.DefaultCalibration()
	draws := best.Draws
	best.Draws = draws / 2
	least := price(even, best)
	for better := true; better; {
		better = false
		for _, k := range constants {
			for _, value := range k.values {
				tried := best
				*k.of(&tried) = value
				if tried == best {
					continue
				}
				if cost := price(even, tried); cost < least-1e-4 {
					best, least, better = tried, cost, true
					fmt.Printf("%s %.2f: %.4f\n", k.name, value, cost)
				}
			}
		}
	}
	best.Draws = draws
	fmt.Printf("\nbest: %+v\neven photos: %v\nodd photos:  %v\n", best, worthOf(even, best), worthOf(odd, best))
}

// price is what a calibration costs on photos, and a good deal more where intervals hold too few.
func price(photos []sample, c deposit.Calibration) float64 {
	w := worthOf(photos, c)
	lacking := max(0, enough-w.index.holds) + max(0, enough-w.dark.holds) + max(0, enough-w.coverage.holds)
	return w.cost() + 10*lacking
}
