// Calibrate tells what intervals, confidence and refusals are worth, on photos with truth as scripts/train/held_back.py
// makes them, and which constants of deposit.Calibration would serve better.
//
//	go run ./scripts/calibrate DIR            the tables, with the constants as they are
//	go run ./scripts/calibrate -search DIR    the constants with the best interval score on the even photos, tried on the odd
package main

import (
	"flag"
	"fmt"
	"log"

	"valvegrade/pkg/deposit"
)

func main() {
	log.SetFlags(0)
	searching := flag.Bool("search", false, "look for better constants")
	flag.Parse()
	if flag.NArg() != 1 {
		log.Fatal("usage: calibrate [-search] DIR")
	}
	photos, err := readAll(flag.Arg(0))
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("%d photos\n\n", len(photos))
	refusals(photos)
	good := judged(photos)
	if len(good) == 0 {
		log.Fatal("no photo was judged that has a valve: nothing to calibrate on")
	}
	reliability(good)
	expectation(good)
	fmt.Println("intervals:", gaps(good, deposit.DefaultCalibration()))
	if *searching {
		search(good)
	}
}
