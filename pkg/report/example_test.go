package report_test

import (
	"fmt"
	"log"
	"os"
	"time"

	"valvegrade/pkg/engine"
	"valvegrade/pkg/report"
)

// A report of an inspection that was saved. WriteHTML, WriteText, WriteCSV and WriteJSON tell all of it.
func ExampleBuild() {
	file, err := os.Open("../../testdata/history/3-before.json")
	if err != nil {
		log.Fatal(err)
	}
	defer file.Close()
	g, err := engine.Read(file)
	if err != nil {
		log.Fatal(err)
	}
	m, err := report.Build(report.Input{
		Visits: []report.Source{{Graded: g}},
		Job:    report.Job{Number: "4711", Date: time.Date(2023, 4, 11, 0, 0, 0, 0, time.UTC)},
	})
	if err != nil {
		log.Fatal(err)
	}
	for _, c := range m.Cylinders {
		fmt.Println("cylinder", c.Number, m.Plate(c.Readings[0]).Words)
	}
	// Output:
	// cylinder 1 patchy
	// cylinder 2 patchy
	// cylinder 3 patchy
	// cylinder 4 crusted, not certain
}
