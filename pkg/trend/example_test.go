package trend_test

import (
	"fmt"
	"log"
	"os"
	"path/filepath"

	"valvegrade/pkg/engine"
	"valvegrade/pkg/inspection"
	"valvegrade/pkg/trend"
)

// The growth of an invented engine's worst cylinder over its odometer, from inspections that were saved.
func ExampleOf() {
	paths, _ := filepath.Glob("../../testdata/history/*.json")
	var engines []*engine.Engine
	for _, path := range paths {
		file, err := os.Open(path)
		if err != nil {
			log.Fatal(err)
		}
		g, err := engine.Read(file)
		file.Close()
		if err != nil {
			log.Fatal(err)
		}
		engines = append(engines, g.Engine)
	}
	t, err := trend.Of(engines, inspection.Miles)
	if err != nil {
		log.Fatal(err)
	}
	for _, line := range t.Series[0].Lines {
		g := line.Growth
		fmt.Printf("%d readings: %.1f points per 10 000 mi (%.1f to %.1f), %s\n",
			len(line.Readings), g.Value, g.Low, g.High, g.Verdict)
		if f := line.Forecast; f != nil {
			fmt.Printf("grade %d at about %.0f mi\n", f.Grade, f.Odometer.Value)
		}
	}
	// Output:
	// 3 readings: 9.3 points per 10 000 mi (7.2 to 11.5), growing
	// 4 readings: 8.1 points per 10 000 mi (6.8 to 9.5), growing
	// grade 3 at about 90675 mi
}
