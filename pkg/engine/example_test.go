package engine_test

import (
	"fmt"
	"log"
	"os"

	"valvegrade/pkg/engine"
	"valvegrade/pkg/grade"
)

// A saved inspection stands for its folder. Grade makes one of a folder and its photos.
func ExampleRead() {
	file, err := os.Open("../../testdata/history/3-before.json")
	if err != nil {
		log.Fatal(err)
	}
	defer file.Close()
	g, err := engine.Read(file)
	if err != nil {
		log.Fatal(err)
	}
	worst := grade.Of(g.Engine.Worst, grade.Probabilities{})
	i := g.Engine.Inspection
	fmt.Printf("%s at %s: worst cylinder %d, grade %d %s\n",
		i.Vehicle, i.Odometer, g.Engine.WorstCylinder, worst.Value, worst.Name)
	for _, c := range g.Engine.Cylinders {
		fmt.Printf("cylinder %d: %.1f (%.1f to %.1f)\n", c.Number, c.Index.Value, c.Index.Low, c.Index.High)
	}
	// Output:
	// invented example at 45 210 mi: worst cylinder 4, grade 3 crusted
	// cylinder 1: 30.9 (25.7 to 36.1)
	// cylinder 2: 35.8 (30.0 to 41.6)
	// cylinder 3: 28.7 (23.8 to 33.6)
	// cylinder 4: 41.6 (35.1 to 48.1)
}
