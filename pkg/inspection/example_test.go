package inspection_test

import (
	"fmt"
	"log"

	"valvegrade/pkg/inspection"
)

// What a folder's inspection.yaml says. Load reads it from the folder and checks that the photos are there.
func ExampleParse() {
	i, err := inspection.Parse("inspection.yaml", []byte(`
vehicle: fleet-17
engine: {cylinders: 4, valves: 2}
date: 2026-03-14
odometer: 72 760 km
stage: before
photos:
  - {file: c1v2.jpg, cylinder: 1, valve: 2}
  - {file: c1v1.jpg, cylinder: 1, valve: 1}
`))
	if err != nil {
		log.Fatal(err) // names every line that is wrong
	}
	fmt.Printf("%s, %s, %.0f mi, %s\n",
		i.Vehicle, i.Date.Format("2 January 2006"), i.Odometer.In(inspection.Miles), i.Stage)
	for _, p := range i.Photos {
		fmt.Println(p.Cylinder, p.Valve, p.File)
	}
	// Output:
	// fleet-17, 14 March 2026, 45211 mi, before
	// 1 1 c1v1.jpg
	// 1 2 c1v2.jpg
}

// Cylinder and valve as the names of photos tell them.
func ExampleNamed() {
	for _, file := range []string{"c2v1.jpg", "cyl3_valve2.png", "IMG_0012.JPG"} {
		cylinder, valve := inspection.Named(file)
		fmt.Println(file, cylinder, valve)
	}
	// Output:
	// c2v1.jpg 2 1
	// cyl3_valve2.png 3 2
	// IMG_0012.JPG 0 0
}
